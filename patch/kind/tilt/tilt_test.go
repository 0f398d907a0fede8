package tilt

import (
	"math"
	"math/cmplx"
	"testing"

	"lampblack/patch/dsp/hash"
	"lampblack/patch/kind/rig"
	"lampblack/patch/module"
)

// gain is that of (1 + A s)/(A + s) in dB, s by the bilinear transform (Zoelzer,
// Digital Audio Signal Processing, 2008, section 5.2).
func gain(rate, pivot, tilt, hz float64) float64 {
	a := complex(math.Pow(10, tilt/20), 0)
	s := complex(0, math.Tan(math.Pi*hz/rate)/math.Tan(math.Pi*pivot/rate))
	return rig.DB(cmplx.Abs((1 + a*s) / (a + s)))
}

func TestGainFollowsTheFormula(t *testing.T) {
	worst := 0.0
	for _, rate := range []float64{44100, 48000, 96000} {
		for _, pivot := range []float64{50, 1000, 8000, 18000} {
			for _, tilt := range []float64{-24, -3, 0, 6, 24} {
				r := rig.NewSetup(Kind(), module.Setup{Rate: rate}).Feed("in", rig.Impulse).Set("pivot", pivot, "Hz").Set("tilt", tilt, "dB")
				n := int(4 * rate)
				lines := rig.Lines(r.Out("out", n))
				for i := range 20 {
					hz := math.Round(4*20*math.Pow(1000, float64(i)/19)) / 4
					got, want := rig.DB(lines[int(hz*4)]*float64(n)/2), gain(rate, pivot, tilt, hz)
					worst = max(worst, math.Abs(got-want))
					if math.Abs(got-want) > 0.001 {
						t.Errorf("rate %g, pivot %g Hz, tilt %g dB, at %g Hz: %.4f dB; the formula says %.4f", rate, pivot, tilt, hz, got, want)
					}
				}
			}
		}
	}
	t.Logf("largest difference to the formula %.6f dB", worst)
}

// What the help's table says of the slope at the pivot.
func TestSlopeAtThePivotIsThatOfTheTable(t *testing.T) {
	for tilt, want := range map[float64]float64{3: 2.0, 6: 3.6, 9: 4.7, 12: 5.3, 18: 5.8, 24: 6.0} {
		const step = 0.01
		up, down := gain(48000, 200, tilt, 200*math.Exp2(step)), gain(48000, 200, tilt, 200*math.Exp2(-step))
		if got := (up - down) / (2 * step); math.Abs(got-want) > 0.06 {
			t.Errorf("tilt %g dB: %.2f dB an octave at the pivot; the table says %.1f", tilt, got, want)
		}
	}
}

func TestTheOppositeUndoesIt(t *testing.T) {
	tilted := rig.New(Kind()).Feed("in", rig.Impulse).Set("tilt", 12, "dB").Out("out", 4800)
	r := rig.New(Kind()).Feed("in", func(n int) float64 { return tilted[n] }).Set("tilt", -12, "dB")
	for n, y := range r.Out("out", 4800) {
		if math.Abs(y-rig.Impulse(n)) > 1e-12 {
			t.Fatalf("sample %d of +12 dB and -12 dB in a row is %g", n, y)
		}
	}
}

func TestFlatIsTheInput(t *testing.T) {
	noise := func(n int) float64 { return hash.Signed(1, uint64(n)) }
	for n, y := range rig.New(Kind()).Feed("in", noise).Out("out", 1000) {
		if y != noise(n) {
			t.Fatalf("at a tilt of 0 dB sample %d is %g; the input is %g", n, y, noise(n))
		}
	}
}

// The loudest still setting raises by 24 dB (15.8).
func TestMovementsStayWithin20dBOfTheLoudestSetting(t *testing.T) {
	r := rig.New(Kind()).Feed("in", func(n int) float64 { return math.Copysign(1, hash.Signed(1, uint64(n))) })
	r.Move("pivot", "Hz", func(n int) float64 { return 20 * math.Pow(1000, 0.5+0.5*hash.Signed(2, uint64(n))) })
	r.Move("tilt", "dB", func(n int) float64 { return 24 * hash.Signed(3, uint64(n)) })
	top := 0.0
	for _, y := range r.Out("out", 1_000_000) {
		if top = max(top, math.Abs(y)); y != y {
			t.Fatal("not a number")
		}
	}
	t.Logf("highest value %.2f, %.1f dB over the loudest setting", top, rig.DB(top)-24)
	if top > 158 {
		t.Errorf("reached %g; want 158 at most", top)
	}
}

func TestBadInputIsForgottenAndTheTailEndsInExactSilence(t *testing.T) {
	for _, bad := range []float64{1, math.NaN(), math.Inf(1), 1e300} {
		r := rig.New(Kind()).Feed("in", func(n int) float64 {
			if n == 0 {
				return bad
			}
			return 0
		}).Set("tilt", -24, "dB")
		if y := r.Out("out", 48000); y[47999] != 0 || r.Clamped != (bad != 1) {
			t.Errorf("after %g the output ends at %g, clamped %v", bad, y[47999], r.Clamped)
		}
	}
}

func BenchmarkTilt(b *testing.B) {
	on := func() *rig.Rig {
		return rig.New(Kind()).Feed("in", func(n int) float64 { return hash.Signed(1, uint64(n)) }).Set("tilt", 6, "dB")
	}
	b.Run("steady", on().Bench)
	b.Run("swept", on().Move("pivot", "Hz", func(n int) float64 { return 1000 * math.Exp2(math.Sin(float64(n)/3000)) }).Bench)
}
