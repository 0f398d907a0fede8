package wow

import (
	"math"
	"testing"

	"lampblack/patch/dsp/hash"
	"lampblack/patch/kind/rig"
	"lampblack/patch/module"
)

// tape is a machine without any unevenness but what a test sets.
func tape(seed uint64) *rig.Rig {
	return rig.NewSetup(Kind(), module.Setup{Rate: 48000, Seed: seed}).Set("wow depth", 0, "%").Set("flutter depth", 0, "%").Set("drift depth", 0, "%")
}

// deviation measures the speed of a tone of 1 kHz from its mean, in %, for each
// step of 24 samples: the phase of the pair that its sine and its cosine make.
func deviation(set func(*rig.Rig) *rig.Rig, seed uint64, samples int) []float64 {
	play := func(phase float64) []float64 {
		r := set(tape(seed)).Feed("left", func(n int) float64 { return math.Sin(2*math.Pi*float64(n)/48 + phase) })
		r.Run(9600)
		return r.Out("left", samples)
	}
	sin, cos := play(0), play(math.Pi/2)
	var speed []float64
	for n := 0; n+24 < samples; n += 24 {
		turn := math.Atan2(sin[n+24], cos[n+24]) - math.Atan2(sin[n], cos[n])
		for turn < 0 {
			turn += 2 * math.Pi
		}
		speed = append(speed, 100*(turn/math.Pi-1))
	}
	return speed
}

func peak(x []float64) (p float64) {
	for _, v := range x {
		p = max(p, math.Abs(v))
	}
	return p
}

// Doppler: the deviation is 2 pi r A = p, whatever the rate.
func TestTheDeviationIsWhatTheDepthSays(t *testing.T) {
	for _, c := range []struct {
		part            string
		rate, depth     float64
		samples, within float64
	}{
		{"wow", 0.2, 2, 5 * 48000, 0.001}, {"wow", 0.7, 0.2, 3 * 48000, 0.0005}, {"wow", 6, 1, 48000, 0.002},
		{"flutter", 12, 0.05, 48000, 0.0005}, {"flutter", 40, 1, 48000, 0.002},
	} {
		x := deviation(func(r *rig.Rig) *rig.Rig {
			return r.Set(c.part+" rate", c.rate, "Hz").Set(c.part+" depth", c.depth, "%")
		}, 1, int(c.samples))
		got := peak(x)
		// Steps of 24 samples average over their length.
		a := math.Pi * c.rate * 24 / 48000
		if want := c.depth * math.Sin(a) / a; math.Abs(got-want) > c.within {
			t.Errorf("%s of %g %% at %g Hz: deviation %.4f %%; want %.4f", c.part, c.depth, c.rate, got, want)
		}
	}
}

// The rms of 400 random ways has itself a spread of about 3 %.
func TestDriftHasTheRmsThatItSays(t *testing.T) {
	for _, depth := range []float64{0.1, 1} {
		x := deviation(func(r *rig.Rig) *rig.Rig {
			return r.Set("drift rate", 20, "Hz").Set("drift depth", depth, "%")
		}, 5, 20*48000)
		if got := rig.RMS(x); math.Abs(got/depth-1) > 0.09 {
			t.Errorf("drift of %g %% has an rms of %.4f %%", depth, got)
		}
	}
}

func TestAnEvenTapeChangesNothing(t *testing.T) {
	r := tape(1).Feed("left", func(n int) float64 { return hash.Signed(1, uint64(n)) }).Feed("right", func(n int) float64 { return hash.Signed(2, uint64(n)) })
	out := r.Run(1000)
	for n := nearest; n < 1000; n++ {
		if out[0][n] != hash.Signed(1, uint64(n-nearest)) || out[1][n] != hash.Signed(2, uint64(n-nearest)) {
			t.Fatalf("sample %d is not the one %d before", n, nearest)
		}
	}
}

func TestLeftAndRightWaverTogether(t *testing.T) {
	mono := rig.New(Kind()).Feed("left", rig.Sine(440)).Run(20000)
	stereo := rig.New(Kind()).Feed("left", rig.Sine(440)).Feed("right", rig.Sine(440)).Run(20000)
	for n := range mono[0] {
		if mono[0][n] != mono[1][n] || mono[0][n] != stereo[0][n] || mono[0][n] != stereo[1][n] {
			t.Fatalf("sample %d: %g, %g alone and %g, %g as a pair", n, mono[0][n], mono[1][n], stereo[0][n], stereo[1][n])
		}
	}
}

// Jumps as the engine smooths them: what a click of -60 dB would add to the
// second difference is 0.001.
func TestJumpsDoNotClick(t *testing.T) {
	for name, to := range map[string]float64{"wow depth": 2, "flutter depth": 1, "drift depth": 1} {
		r := tape(3).Feed("left", rig.Sine(200)).Move(name, "%", func(n int) float64 {
			return to * (1 - math.Exp(-float64(max(n-9600, 0))/240))
		})
		r.Run(9000)
		y := r.Out("left", 9600)
		for i := 2; i < len(y); i++ {
			if d := math.Abs(y[i] - 2*y[i-1] + y[i-2]); d > math.Pow(2*math.Pi*400/48000, 2)+0.001 {
				t.Fatalf("%s: at sample %d the second difference is %g", name, i-600, d)
			}
		}
	}
}

func TestItForgetsWhatIsNoNumber(t *testing.T) {
	r := rig.New(Kind()).Feed("left", func(n int) float64 { return map[int]float64{5: math.NaN(), 6: math.Inf(-1)}[n] })
	y := r.Out("left", 9600)
	if peak(y) > 2000 || y[9599] != 0 || !r.Clamped {
		t.Errorf("peak %g, end %g, said so: %v", peak(y), y[9599], r.Clamped)
	}
}

func BenchmarkWow(b *testing.B) {
	b.Run("mono", rig.New(Kind()).Feed("left", rig.Sine(440)).Bench)
	b.Run("stereo", rig.New(Kind()).Feed("left", rig.Sine(440)).Feed("right", rig.Sine(330)).Bench)
}
