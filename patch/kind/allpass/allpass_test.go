package allpass

import (
	"math"
	"math/cmplx"
	"testing"

	"gonum.org/v1/gonum/dsp/fourier"

	"lampblack/patch/dsp/hash"
	"lampblack/patch/kind/rig"
	"lampblack/patch/module"
)

// setting is one way to set the module.
type setting struct {
	centre, q     float64
	order         string
	stages        int
	feedback, mix float64 // %
}

func (c setting) on(rate float64) *rig.Rig {
	r := rig.NewSetup(Kind(), module.Setup{Rate: rate})
	r.Set("centre", c.centre, "Hz").Set("width", c.q, "Q").Choose("order", c.order)
	return r.Set("stages", float64(c.stages), "").Set("feedback", c.feedback, "%").Set("mix", c.mix, "%")
}

// gain is the module's gain at hz, from the formulas of its help; those of the
// second order are the cookbook's all-pass (Audio EQ Cookbook, W3C Note, 2021),
// those of the first the same for one pole.
func (c setting) gain(rate, hz float64) complex128 {
	s := complex(0, math.Tan(math.Pi*hz/rate)/math.Tan(math.Pi*c.centre/rate))
	one := (1 - s) / (1 + s)
	if c.order == "second" {
		one = (s*s - s/complex(c.q, 0) + 1) / (s*s + s/complex(c.q, 0) + 1)
	}
	a := cmplx.Pow(one, complex(float64(c.stages), 0))
	m := complex(c.mix/100, 0)
	return (1 - m + m*a) / (1 - complex(c.feedback/100, 0)*a)
}

func TestGainAndPhaseFollowTheFormula(t *testing.T) {
	worst := 0.0
	for _, rate := range []float64{44100, 48000, 96000} {
		for _, c := range []setting{
			{1000, 1, "first", 1, 0, 100},
			{1000, 1, "first", 4, 0, 100},
			{15000, 1, "first", 12, 0, 100},
			{200, 0.5, "second", 1, 0, 100},
			{1000, 3, "second", 12, 0, 100},
			{18000, 5, "second", 3, 0, 100},
			{700, 1, "first", 4, 0, 50},
			{700, 1, "first", 6, 70, 50},
			{700, 1, "first", 5, -70, 30},
			{2000, 2, "second", 4, 90, 100},
			{2000, 2, "second", 3, -60, 0},
		} {
			n := int(rate) // lines 1 Hz apart
			lines := fourier.NewFFT(n).Coefficients(nil, c.on(rate).Feed("in", rig.Impulse).Out("out", n))
			for i := range 20 {
				hz := math.Round(20 * math.Pow(1000, float64(i)/19))
				want := c.gain(rate, hz)
				off := cmplx.Abs(lines[int(hz)]-want) / max(cmplx.Abs(want), 0.01)
				worst = max(worst, off)
				if off > 1e-4 { // 0.0009 dB, 0.006 degrees
					t.Errorf("%+v at rate %g, %g Hz: %.6f; the formula says %.6f", c, rate, hz, lines[int(hz)], want)
				}
				if size := cmplx.Abs(lines[int(hz)]); c.mix == 100 && c.feedback == 0 && math.Abs(rig.DB(size)) > 0.001 {
					t.Errorf("%+v at rate %g, %g Hz: %.5f dB; want 0", c, rate, hz, rig.DB(size))
				}
			}
		}
	}
	t.Logf("largest difference to the formula %.2g of the gain", worst)
}

// Four stages of the first order turn by -180 degrees where each turns by -45
// or by -135: at tan 22.5 and tan 67.5 degrees of the centre.
func TestNotchesLieWhereTheTurnsCancel(t *testing.T) {
	tan := math.Tan(math.Pi * 1000 / 48000)
	for _, degrees := range []float64{22.5, 67.5} {
		hz := math.Atan(math.Tan(degrees*math.Pi/180)*tan) / math.Pi * 48000
		r := setting{1000, 1, "first", 4, 40, 50}.on(48000).Feed("in", rig.Sine(hz))
		if left := rig.DB(rig.RMS(r.Out("out", 48000)[24000:])); left > -120 {
			t.Errorf("at %.1f Hz there is still %.1f dB", hz, left)
		}
	}
	if r := (setting{1000, 1, "first", 4, 0, 0}).on(48000).Feed("in", rig.Sine(440)); true {
		for i, y := range r.Out("out", 1000) {
			if y != math.Sin(2*math.Pi*440*float64(i)/48000) {
				t.Fatalf("at a mix of 0 %% sample %d is not what went in", i)
			}
		}
	}
}

// What the help says of feedback: at a mix of 50 % positive feedback makes peaks
// of 1/(1 - feedback), negative leaves 1/(1 + |feedback|) there.
func TestFeedbackSharpensPeaksOrNotches(t *testing.T) {
	for feedback, want := range map[float64]float64{50: 6.0206, 90: 20, -50: -3.5218} {
		r := setting{1000, 1, "first", 4, feedback, 50}.on(48000).Feed("in", rig.Sine(1000)) // 4 times -90 degrees
		if got := rig.DB(rig.RMS(r.Out("out", 48000)[24000:])) + 3.0103; math.Abs(got-want) > 0.001 {
			t.Errorf("feedback %g %%: %.3f dB at the centre; want %.3f", feedback, got, want)
		}
	}
}

// A chain of rotations stores what went in less what came out; so whatever moves,
// the energy that has come out never exceeds what went in.
func TestMovementsMakeNothingLouder(t *testing.T) {
	for _, order := range []string{"first", "second"} {
		r := setting{1000, 1, order, 12, 0, 100}.on(48000)
		noise := func(n int) float64 { return hash.Signed(1, uint64(n)) }
		r.Feed("in", noise)
		r.Move("centre", "Hz", func(n int) float64 { return 20 * math.Pow(1000, 0.5+0.5*hash.Signed(2, uint64(n))) })
		r.Move("width", "Q", func(n int) float64 { return 0.1 * math.Pow(1000, 0.5+0.5*hash.Signed(3, uint64(n))) })
		in, out := 0.0, 0.0
		for n, y := range r.Out("out", 1_000_000) {
			in += noise(n) * noise(n)
			out += y * y
			if out > in*(1+1e-9) {
				t.Fatalf("%s order: by sample %d more has come out (%g) than went in (%g)", order, n, out, in)
			}
		}
		t.Logf("%s order: %.4f of the energy has come out", order, out/in)
	}
}

func TestFeedbackAtItsLimitStaysBoundedUnderAnyMovement(t *testing.T) {
	for _, order := range []string{"first", "second"} {
		r := setting{1000, 1, order, 6, 95, 100}.on(48000).Feed("in", func(n int) float64 { return hash.Signed(1, uint64(n)) })
		r.Move("centre", "Hz", func(n int) float64 { return 20 * math.Pow(1000, 0.5+0.5*hash.Signed(2, uint64(n))) })
		r.Move("feedback", "%", func(n int) float64 { return 95 * hash.Signed(4, uint64(n)) })
		top := 0.0
		for _, y := range r.Out("out", 1_000_000) {
			if top = max(top, math.Abs(y)); y != y {
				t.Fatal("not a number")
			}
		}
		t.Logf("%s order: highest value %.2f", order, top)
		if top > 20 { // 1/(1 - 0.95)
			t.Errorf("%s order: reached %g; a still filter reaches 20", order, top)
		}
	}
}

func TestBadInputIsForgottenAndTheTailEndsInExactSilence(t *testing.T) {
	for _, bad := range []float64{1, math.NaN(), math.Inf(-1), 1e300} {
		r := setting{2000, 2, "second", 6, 60, 50}.on(48000).Feed("in", func(n int) float64 {
			if n == 0 {
				return bad
			}
			return 0
		})
		y := r.Out("out", 8*48000)
		if y[len(y)-1] != 0 || r.Clamped != (bad != 1) {
			t.Errorf("after %g the output ends at %g, clamped %v", bad, y[len(y)-1], r.Clamped)
		}
	}
}

func BenchmarkAllpass(b *testing.B) {
	on := func(order string, stages int, feedback float64) *rig.Rig {
		return setting{1000, 1, order, stages, feedback, 50}.on(48000).Feed("in", func(n int) float64 { return hash.Signed(1, uint64(n)) })
	}
	sway := func(n int) float64 { return 1000 * math.Exp2(math.Sin(float64(n)/3000)) }
	b.Run("4 stages", on("first", 4, 0).Bench)
	b.Run("4 stages, swept", on("first", 4, 0).Move("centre", "Hz", sway).Bench)
	b.Run("6 stages, feedback, swept", on("first", 6, 50).Move("centre", "Hz", sway).Bench)
	b.Run("12 stages of the second order, feedback, swept", on("second", 12, 50).Move("centre", "Hz", sway).Bench)
}
