package scope

import (
	"math"
	"strconv"
)

// Note is the note of the equal-tempered scale that is nearest to a frequency.
type Note struct {
	Number int     // as in MIDI 1.0: 69 is A4
	Cents  float64 // how far the frequency lies above the note, -50 to 50
}

// NearestNote returns the note nearest to a frequency in Hz, with A4 at 440 Hz
// (ISO 16:1975), and false if the frequency is not positive.
func NearestNote(hz float64) (Note, bool) {
	if !(hz > 0) || math.IsInf(hz, 1) {
		return Note{}, false
	}
	place := 69 + 12*math.Log2(hz/440)
	number := math.Round(place)
	return Note{int(number), 100 * (place - number)}, true
}

var noteNames = [12]string{"C", "C#", "D", "D#", "E", "F", "F#", "G", "G#", "A", "A#", "B"}

// Name returns the note's name with its octave: C4 is the middle C.
func (n Note) Name() string {
	octave := int(math.Floor(float64(n.Number) / 12))
	return noteNames[n.Number-12*octave] + strconv.Itoa(octave-1)
}
