package dcblock

import (
	"math"
	"math/cmplx"
	"testing"

	"lampblack/patch/dsp/hash"
	"lampblack/patch/kind/rig"
	"lampblack/patch/module"
)

// gain is that of s/(1 + s) or, with two poles, of Butterworth's high-pass
// (Wireless Engineer 7, 1930), in dB; s by the bilinear transform.
func gain(rate, cutoff float64, poles string, hz float64) float64 {
	s := complex(0, math.Tan(math.Pi*hz/rate)/math.Tan(math.Pi*cutoff/rate))
	if poles == "two" {
		return rig.DB(cmplx.Abs(s * s / (s*s + complex(math.Sqrt2, 0)*s + 1)))
	}
	return rig.DB(cmplx.Abs(s / (1 + s)))
}

func TestGainFollowsTheFormula(t *testing.T) {
	worst := 0.0
	for _, rate := range []float64{44100, 48000, 96000} {
		for _, poles := range []string{"one", "two"} {
			for _, cutoff := range []float64{1, 5, 20, 100} {
				r := rig.NewSetup(Kind(), module.Setup{Rate: rate}).Feed("in", rig.Impulse).Set("cutoff", cutoff, "Hz").Choose("poles", poles)
				n := int(4 * rate) // lines 0.25 Hz apart
				lines := rig.Lines(r.Out("out", n))
				for i := range 20 {
					hz := math.Round(4*0.5*math.Pow(40000, float64(i)/19)) / 4
					got, want := rig.DB(lines[int(hz*4)]*float64(n)/2), gain(rate, cutoff, poles, hz)
					worst = max(worst, math.Abs(got-want))
					if math.Abs(got-want) > 0.002 {
						t.Errorf("rate %g, %s pole(s) at %g Hz, at %g Hz: %.5f dB; the formula says %.5f", rate, poles, cutoff, hz, got, want)
					}
				}
			}
		}
	}
	t.Logf("largest difference to the formula %.6f dB", worst)
}

// Butterworth: 3.0103 dB down at the cutoff; a step leaves e^(-2 pi f t) of one
// pole and e^(-u) (cos u - sin u), u = sqrt 2 pi f t, of two (Laplace transform).
func TestAStepDiesAwayAsTheoryHasIt(t *testing.T) {
	for _, cutoff := range []float64{0.1, 1, 10, 100} {
		for _, poles := range []string{"one", "two"} {
			r := rig.New(Kind()).Feed("in", func(int) float64 { return 1 }).Set("cutoff", cutoff, "Hz").Choose("poles", poles)
			n := int(48000 / cutoff)
			y := r.Out("out", n)
			for k := range 20 {
				i := k * n / 20
				// The trapezoidal rule sees the step half a sample before its first sample.
				time := (float64(i) + 0.5) / 48000
				want := math.Exp(-2 * math.Pi * cutoff * time)
				if poles == "two" {
					u := math.Sqrt2 * math.Pi * cutoff * time
					want = math.Exp(-u) * (math.Cos(u) - math.Sin(u))
				}
				if math.Abs(y[i]-want) > 5e-5 {
					t.Errorf("%s pole(s) at %g Hz: after %.4f s %.6f of a step is left; theory says %.6f", poles, cutoff, time, y[i], want)
				}
			}
		}
	}
}

// The help's dip of two poles: the smallest value of the formula above, at u = pi/2.
func TestTwoPolesDipAsTheHelpSays(t *testing.T) {
	least := 0.0
	for _, y := range rig.New(Kind()).Feed("in", func(int) float64 { return 1 }).Choose("poles", "two").Out("out", 48000) {
		least = min(least, y)
	}
	if math.Abs(least+0.2079) > 0.0001 {
		t.Errorf("the step dips to %.4f; want -0.2079", least)
	}
}

func TestNothingThatStandsStillIsLeft(t *testing.T) {
	for _, poles := range []string{"one", "two"} {
		r := rig.New(Kind()).Choose("poles", poles).Feed("in", func(n int) float64 { return 0.5 + 0.25*math.Sin(2*math.Pi*440*float64(n)/48000) })
		y := r.Out("out", 2*48000)[48000:]
		mean := 0.0
		for _, v := range y {
			mean += v / 48000
		}
		if level := rig.RMS(y) * math.Sqrt2; math.Abs(mean) > 1e-11 || math.Abs(level-0.25) > 0.0001 {
			t.Errorf("%s pole(s): a mean of %g and a sine of %g are left; want 0 and 0.25", poles, mean, level)
		}
	}
}

func TestRandomCutoffStaysBounded(t *testing.T) {
	for _, poles := range []string{"one", "two"} {
		r := rig.New(Kind()).Choose("poles", poles).Feed("in", func(n int) float64 { return math.Copysign(1, hash.Signed(1, uint64(n))) })
		r.Move("cutoff", "Hz", func(n int) float64 { return 0.1 * math.Pow(1000, 0.5+0.5*hash.Signed(2, uint64(n))) })
		top := 0.0
		for _, y := range r.Out("out", 1_000_000) {
			if top = max(top, math.Abs(y)); y != y {
				t.Fatal("not a number")
			}
		}
		t.Logf("%s pole(s): highest value %.3f", poles, top)
		if top > 2 {
			t.Errorf("%s pole(s): reached %g", poles, top)
		}
	}
}

func TestBadInputIsForgottenAndTheTailEndsInExactSilence(t *testing.T) {
	for _, poles := range []string{"one", "two"} {
		for _, bad := range []float64{1, math.NaN(), math.Inf(1), 1e300} {
			r := rig.New(Kind()).Choose("poles", poles).Set("cutoff", 20, "Hz").Feed("in", func(n int) float64 {
				if n == 0 {
					return bad
				}
				return 0
			})
			if y := r.Out("out", 48000); y[47999] != 0 || r.Clamped != (bad != 1) {
				t.Errorf("%s pole(s): after %g the output ends at %g, clamped %v", poles, bad, y[47999], r.Clamped)
			}
		}
	}
}

func BenchmarkDCBlock(b *testing.B) {
	on := func(poles string) *rig.Rig {
		return rig.New(Kind()).Choose("poles", poles).Feed("in", func(n int) float64 { return hash.Signed(1, uint64(n)) })
	}
	b.Run("one pole", on("one").Bench)
	b.Run("two poles", on("two").Bench)
	b.Run("swept", on("one").Move("cutoff", "Hz", func(n int) float64 { return 10 * math.Exp2(math.Sin(float64(n)/3000)) }).Bench)
}
