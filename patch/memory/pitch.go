package memory

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

var names = [12]string{"C", "C#", "D", "D#", "E", "F", "F#", "G", "G#", "A", "A#", "B"}

// PitchName returns the name of a pitch in octaves from A4 = 440 Hz: "D4",
// "C#5", or "D4 +12.3 c" with the cents above or below the nearest note, to a
// tenth. Octaves are counted from C; middle C is C4.
//
// Source: ISO 16:1975 for A4; note numbers of the MIDI 1.0 specification.
func PitchName(octaves float64) string {
	if !(math.Abs(octaves) <= 1000) {
		return strconv.FormatFloat(octaves, 'g', -1, 64) + " oct"
	}
	note := math.Round(69 + float64(octaves*12))
	name := noteName(int(note))
	cents := (octaves - (note-69)/12) * 1200
	if math.Abs(cents) < 0.05 {
		return name
	}
	return fmt.Sprintf("%s %+.1f c", name, cents)
}

func noteName(n int) string {
	octave := int(math.Floor(float64(n) / 12))
	return names[n-12*octave] + strconv.Itoa(octave-1)
}

var pitch = regexp.MustCompile(`^([A-Ga-g])([#b]?)(-?\d{1,3})(?: *([+-] ?\d+(?:\.\d*)?) *(?:c|ct|cent|cents))?$`)

var spellings = strings.NewReplacer("\u266f", "#", "\u266d", "b", "\u2212", "-")

// ParsePitch reads what PitchName writes, also with a flat ("Eb4"), and a
// frequency ("440 Hz"). The result is in octaves from A4; a note's is exactly
// (number - 69) / 12. The pitch must be within MaxPitch.
func ParsePitch(text string) (float64, error) {
	octaves, err := parsePitch(strings.TrimSpace(spellings.Replace(text)))
	if err == nil && math.Abs(octaves) > MaxPitch {
		err = fmt.Errorf("%q is more than %d octaves from A4", text, MaxPitch)
	}
	if err != nil {
		return 0, fmt.Errorf("pitch: %w; allowed are notes such as D4, C#5, Eb3, D4 +12.3 c, or a frequency in Hz", err)
	}
	return octaves, nil
}

func parsePitch(text string) (float64, error) {
	if hz, ok := strings.CutSuffix(text, "Hz"); ok {
		f, err := strconv.ParseFloat(strings.TrimSpace(hz), 64)
		if err != nil || !(f > 0) {
			return 0, fmt.Errorf("%q is no frequency", text)
		}
		return math.Log2(f / 440), nil
	}
	part := pitch.FindStringSubmatch(text)
	if part == nil {
		return 0, fmt.Errorf("%q is no pitch", text)
	}
	octave, err := strconv.Atoi(part[3])
	if err != nil {
		return 0, fmt.Errorf("%q is no pitch", text)
	}
	note := 12*(octave+1) + map[string]int{"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}[strings.ToUpper(part[1])]
	note += map[string]int{"": 0, "#": 1, "b": -1}[part[2]]
	octaves := float64(note-69) / 12
	if part[4] == "" {
		return octaves, nil
	}
	cents, err := strconv.ParseFloat(strings.ReplaceAll(part[4], " ", ""), 64)
	if err != nil {
		return 0, fmt.Errorf("%q has no number of cents", text)
	}
	return octaves + cents/1200, nil
}
