package keys

import (
	"math"
	"testing"
)

func TestAKeySoundsTheNoteOfItsString(t *testing.T) {
	for _, c := range []struct {
		key   string
		hertz float64
		why   string
	}{
		{"A", 440, "ISO 16:1975: A4 is 440 Hz"},
		{"Z", 329.6276, "E4, a fourth below A4: 440 / 2^(5/12)"},
		{"Q", 587.3295, "D5, a fourth above A4: 440 * 2^(5/12)"},
		{"1", 783.9909, "G5, two fourths above A4: 440 * 2^(10/12)"},
		{"S", 466.1638, "A sharp 4: one semitone is 2^(1/12)"},
		{"/", 554.3653, "C sharp 5: the tenth key of the E string, nine semitones up"},
	} {
		place, ok := Find("", c.key, 0)
		if !ok {
			t.Errorf("key %s plays nothing", c.key)
			continue
		}
		got := 440 * math.Exp2(Pitch(place, 0))
		if cents := 1200 * math.Log2(got/c.hertz); math.Abs(cents) > 0.01 {
			t.Errorf("key %s sounds %.4f Hz, want %.4f Hz (%s)", c.key, got, c.hertz, c.why)
		}
	}
}

func TestTheScanCodeDecidesOnEverySystem(t *testing.T) {
	for _, c := range []struct {
		system, name string
		scan         int
		want         Place
		why          string
	}{
		{"linux", "Q", 38, Place{1, 0}, "the key left of S sends Q on a French keyboard; X11 code 38 is KEY_A + 8"},
		{"linux", "A", 24, Place{2, 0}, "KEY_Q is 16 in input-event-codes.h"},
		{"windows", "Z", 44, Place{0, 0}, "set 1 scan code 0x2C"},
		{"darwin", "A", 0, Place{1, 0}, "kVK_ANSI_A is 0"},
		{"plan9", ";", 0, Place{1, 9}, "no codes known: the name decides"},
	} {
		if got, ok := Find(c.system, c.name, c.scan); !ok || got != c.want {
			t.Errorf("%s %s %d: got %v, %v, want %v (%s)", c.system, c.name, c.scan, got, ok, c.want, c.why)
		}
	}
	for _, name := range []string{"Space", "F1", "Return", "", "[", "]"} {
		if at, ok := Find("", name, 0); ok {
			t.Errorf("key %q plays at %v; it must not", name, at)
		}
	}
	for _, scan := range []int{65, 36, 34, 35, 20, 21, 9, 67} { // space, enter, brackets, minus, equal, escape, F1
		if at, ok := Find("linux", "x", scan); ok {
			t.Errorf("X11 code %d plays at %v; it must not", scan, at)
		}
	}
}

func TestStringsStandAFourthApart(t *testing.T) {
	for octave := LowestOctave; octave <= HighestOctave; octave++ {
		for row := 1; row < Rows; row++ {
			if got := math.Round(12 * (Pitch(Place{row, 0}, octave) - Pitch(Place{row - 1, 0}, octave))); got != 5 {
				t.Errorf("string %d stands %g semitones above the next lower one, want 5", row, got)
			}
		}
		if a, b := Pitch(Place{1, 0}, octave), float64(octave); a != b {
			t.Errorf("A moved by %d octaves is %g, want %g", octave, a, b)
		}
	}
}
