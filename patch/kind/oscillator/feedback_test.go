package oscillator

import (
	"math"
	"testing"

	"lampblack/patch/kind/rig"
)

// y = sin(x + b y) is Kepler's equation; its series is the sum over n of
// 2/(n b) Jn(n b) sin n x for b up to 1 (Watson, Theory of Bessel functions, 17.2,
// from memory). A slow sine is near it, as the feedback is 1.5 samples late.
func TestFeedbackIsKeplersSeries(t *testing.T) {
	for _, b := range []float64{0.25, 0.5, 0.9} {
		heard := rig.Lines(rig.New(Kind()).Set("frequency", 5, "Hz").Set("feedback", 100*b/math.Pi, "%").Out("out", 48000))
		for n := 1; n <= 8; n++ {
			want := 2 / (float64(n) * b) * math.Jn(n, float64(n)*b)
			if want > 1e-4 && math.Abs(rig.DB(heard[5*n]/want)) > 0.05 {
				t.Errorf("feedback of index %g: harmonic %d is %.6f; Kepler's series says %.6f", b, n, heard[5*n], want)
			}
		}
	}
}

// A shape other than the sine leans by the sine of its phase. That sine aliases by
// itself when the index, pi times the feedback, nears 1; the corners add nothing.
func TestFeedbackOfOtherShapesDoesNotAlias(t *testing.T) {
	for _, shape := range []string{"sine", "triangle", "saw", "pulse"} {
		for percent, want := range map[float64]float64{10: -120, 20: -100, 30: -80} {
			const root = 503 // 1474 Hz
			r := rig.New(Kind()).Choose("shape", shape).Set("frequency", root*48000.0/lines, "Hz").Set("feedback", percent, "%")
			r.Run(lines)
			db := worstAlias(r.Out("out", lines), root)
			t.Logf("%s of 1474 Hz, feedback %g %%: worst alias %.1f dB", shape, percent, db)
			if db > want {
				t.Errorf("%s, feedback %g %%: worst alias %.1f dB; want %g", shape, percent, db, want)
			}
		}
	}
}

// The mean of two samples keeps a strong feedback from jumping between two values
// at half the rate.
func TestStrongFeedbackDoesNotHuntAtHalfTheRate(t *testing.T) {
	for _, percent := range []float64{30, 40, 50} {
		heard := rig.Lines(rig.New(Kind()).Set("frequency", 110, "Hz").Set("feedback", percent, "%").Out("out", 48000))
		var top float64
		for _, a := range heard[23000:] {
			top = max(top, a)
		}
		t.Logf("feedback %g %%: strongest line above 23 kHz %.1f dB", percent, rig.DB(top))
		if rig.DB(top) > -60 {
			t.Errorf("feedback %g %%: a line of %.1f dB above 23 kHz", percent, rig.DB(top))
		}
	}
}
