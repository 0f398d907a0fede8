package predict

import (
	"testing"

	"lampblack/assets"
	"lampblack/patch"
)

// A bell's frequency is driven below the end of its range and is cut off there: of
// the thousands of tones that this gives, most are slight.
func TestAFrequencyThatIsCutOffIsPredictedOnTheBench(t *testing.T) {
	file, err := assets.Patch("bell")
	if err != nil {
		t.Fatal(err)
	}
	p, err := patch.Read(file)
	if err != nil {
		t.Fatal(err)
	}
	for _, level := range []float64{1, 0.8, 0.6} {
		c := usual
		c.Levels = map[patch.Socket]float64{{Module: "strike", Name: "out"}: level, {Module: "fading", Name: "out"}: 1}
		at := patch.Socket{Module: "ring", Name: "out"}
		tied := Predict(p, at, c)
		c.AnyPhase = true
		free := Predict(p, at, c)
		if len(tied.Why)+len(free.Why) > 0 || len(free.Lines) == 0 {
			t.Fatalf("%q, %q", tied.Why, free.Why)
		}
		// The strongest line stands alone: no phase can move it.
		if d := free.Lines[0].Level - tied.Lines[0].Level; d > 0.01 || d < -0.01 {
			t.Errorf("at a level of %g the strongest line is %.3f dB with phases and %.3f dB without", level, tied.Lines[0].Level, free.Lines[0].Level)
		}
		if free.Down > 60 {
			t.Errorf("what was left out is claimed down to %g dB", free.Down)
		}
	}
}

// A carrier at twice its modulator's frequency, which runs freely: lines that come
// back at 0 Hz meet others, and nothing tells how.
func TestReflectedLinesOfFreePhasesAreARange(t *testing.T) {
	d := &desk{t, build()}
	d.put("clapper", "oscillator", "frequency", "200 Hz")
	d.put("bronze", "oscillator", "frequency", "400 Hz")
	d.cord("clapper/out", "bronze/phase", "114.591559 deg")
	d.hear("bronze/out")
	c := usual
	c.AnyPhase = true
	for _, l := range Predict(*d.p, heard, c).Lines {
		// J1(2) = 0.5767248 and J3(2) = 0.1289432: Abramowitz and Stegun, tables 9.1, 9.2.
		if l.Hz == 200 && (l.Most < 0.70566 || l.Most > 0.70568 || l.Least < 0.44777 || l.Least > 0.44779) {
			t.Errorf("200 Hz: %.5f to %.5f, want J1 - J3 to J1 + J3 of 2", l.Least, l.Most)
		}
	}
}
