package memory_test

import (
	"math"
	"strings"
	"testing"

	"lampblack/patch/memory"
	"pgregory.net/rapid"
)

// Frequencies: ISO 16:1975 (A4 = 440 Hz) in equal temperament. Note numbers and
// their names: MIDI 1.0 (60 is middle C; the octave numbers are the common
// practice in which that is C4).
func TestNotesAreWhereTheStandardsPutThem(t *testing.T) {
	for _, c := range []struct {
		number int
		name   string
		hz     float64
	}{
		{0, "C-1", 8.1758}, {21, "A0", 27.5}, {24, "C1", 32.7032}, {36, "C2", 65.4064}, {48, "C3", 130.8128}, {60, "C4", 261.6256},
		{61, "C#4", 277.1826}, {69, "A4", 440}, {72, "C5", 523.2511}, {84, "C6", 1046.5023}, {96, "C7", 2093.0045}, {108, "C8", 4186.0090}, {127, "G9", 12543.8540},
	} {
		octaves, err := memory.ParsePitch(c.name)
		if err != nil || octaves != float64(c.number-69)/12 || memory.PitchName(octaves) != c.name {
			t.Errorf("%s is read as %g octaves (%v), which is written %s; want note %d", c.name, octaves, err, memory.PitchName(octaves), c.number)
		}
		// The table has four decimals: at 8 Hz that is 0.011 cent.
		if cents := 1200 * math.Abs(math.Log2(440*math.Exp2(octaves)/c.hz)); cents > 0.001+1200*math.Log2(1+0.00005/c.hz) {
			t.Errorf("%s is %.4f Hz, %.4f cent from %.4f", c.name, 440*math.Exp2(octaves), cents, c.hz)
		}
	}
}

func TestPitchesAreReadInTheirSpellings(t *testing.T) {
	for _, c := range []struct {
		text string
		want float64
		name string
	}{
		{"Eb4", -6.0 / 12, "D#4"}, {"e\u266d4", -6.0 / 12, "D#4"}, {"C\u266f5", 4.0 / 12, "C#5"}, {"Cb4", -10.0 / 12, "B3"}, {"B#3", -9.0 / 12, "C4"},
		{"D4 +12.3 c", d4 + 12.3/1200, "D4 +12.3 c"}, {"D4 \u2212 50 cents", d4 - 50.0/1200, "D4 -50.0 c"},
		{"A4 +7.851 c", 7.851 / 1200, "A4 +7.9 c"}, {"442 Hz", math.Log2(442.0 / 440), "A4 +7.9 c"}, {"440 Hz", 0, "A4"}, // 442/440 is 7.851 cent: arithmetic
	} {
		got, err := memory.ParsePitch(c.text)
		if err != nil || math.Abs(got-c.want) > 1e-12 || memory.PitchName(got) != c.name {
			t.Errorf("%s is read as %g (%v), written %s; want %g, %s", c.text, got, err, memory.PitchName(got), c.want, c.name)
		}
	}
	for _, text := range []string{"", "H4", "D", "4", "D4 12", "D#b4", "0 Hz", "-5 Hz", "NaN Hz", "D4 +1e3 c", "C99", "Inf Hz", "D4 + c"} {
		if p, err := memory.ParsePitch(text); err == nil || !strings.Contains(err.Error(), "allowed are") {
			t.Errorf("%q is read as %g (%v), want it refused with what is allowed", text, p, err)
		}
	}
}

func TestAPitchIsWrittenToATenthOfACent(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := rapid.Float64Range(-15, 15).Draw(t, "pitch")
		q, err := memory.ParsePitch(memory.PitchName(p))
		if err != nil || math.Abs(p-q)*1200 > 0.0501 {
			t.Fatalf("%g is written %s, which is read as %g (%v)", p, memory.PitchName(p), q, err)
		}
	})
	for _, p := range []float64{math.NaN(), math.Inf(1), 1e300} {
		if memory.PitchName(p) == "" {
			t.Error("a pitch that can't be has no name")
		}
	}
}
