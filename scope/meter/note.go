package meter

import (
	"fmt"
	"math"
)

// A4 is the pitch that notes are named from, in Hz. Source: ISO 16:1975.
const A4 = 440.0

// Note names the equal-tempered note next to a frequency (A4, C#5; middle C is C4)
// and tells how many cents the frequency lies above it, -50 to +50. For what is not
// a positive number of Hz the name is empty.
func Note(hz float64) (name string, cents float64) {
	if !(hz > 0) || math.IsInf(hz, 1) {
		return "", 0
	}
	semitones := 12 * math.Log2(hz/A4)
	nearest := math.Round(semitones)
	key := int(nearest) + 57 // semitones above C0
	octave := int(math.Floor(float64(key) / 12))
	names := [...]string{"C", "C#", "D", "D#", "E", "F", "F#", "G", "G#", "A", "A#", "B"}
	return fmt.Sprintf("%s%d", names[key-12*octave], octave), 100 * (semitones - nearest)
}
