package loudness

import (
	"math"
	"testing"

	"lampblack/patch/dsp/hash"
	"lampblack/patch/kind/rig"
)

func follow(detection string, attack, release float64) *rig.Rig {
	return rig.New(Kind()).Choose("detection", detection).Set("attack", attack, "s").Set("release", release, "s")
}

// The mean of a rectified sine is 2/pi = .63662 (-3.922 dB), its rms -3.010 dB,
// 0.912 dB apart; white noise, even over +-1, has a mean of 1/2 and an rms of
// 1/sqrt(3).
func TestReadingsOfSineAndNoise(t *testing.T) {
	noise := func(n int) float64 { return hash.Signed(1, uint64(n)) }
	for _, c := range []struct {
		detection string
		wave      rig.Wave
		want      float64
		bound     float64 // dB
	}{
		{"mean", rig.Sine(997), 2 / math.Pi, 0.001},
		{"rms", rig.Sine(997), math.Sqrt(0.5), 0.001},
		{"peak", rig.Sine(997), 1, 0.02}, // it falls for half a cycle of 0.5 ms in a release of 0.3 s
		{"mean", noise, 0.5, 0.1},
		{"rms", noise, math.Sqrt(1.0 / 3), 0.1},
	} {
		out := follow(c.detection, 0.3, 0.3).Feed("in", c.wave).Out("out", 6*48000)
		var sum float64
		for _, y := range out[4*48000:] {
			sum += y / (2 * 48000)
		}
		if off := rig.DB(sum / c.want); !(math.Abs(off) <= c.bound) {
			t.Errorf("%s reads %.5f; want %.5f, off by %+.4f dB", c.detection, sum, c.want, off)
		}
	}
}

// A rectified sine of f Hz has a line at 2f of 2/3 of its mean (Fourier series);
// one pole of 20 ms leaves -31.53 dB of it at 100 Hz.
func TestRippleIsThatOfOnePole(t *testing.T) {
	r := follow("mean", 0.02, 0.02).Feed("in", rig.Sine(100))
	r.Run(48000)
	lines := rig.Lines(r.Out("out", 48000))
	if db := rig.DB(lines[200] / lines[0]); math.Abs(db+31.53) > 0.01 {
		t.Errorf("the ripple at 200 Hz is %.3f dB re the mean; want -31.53", db)
	}
}

// First-order theory: 63.212, 86.466, 95.021 % after 1, 2, 3 time constants up;
// 8.686 dB down for each of release.
func TestItRisesAndFallsWithItsTimes(t *testing.T) {
	for _, detection := range []string{"mean", "rms", "peak"} {
		out := follow(detection, 0.05, 0.2).Feed("in", func(n int) float64 {
			if n < 96000 {
				return 0.5
			}
			return 0
		}).Out("out", 192000)
		for k, want := range []float64{0, 0.63212, 0.86466, 0.95021} {
			got := out[max(k*2400-1, 0)] / 0.5
			if detection == "rms" {
				got *= got // the power rises with the attack
			}
			if math.Abs(got-want) > 0.0005 {
				t.Errorf("%s after %d attacks: %.5f; want %.5f", detection, k, got, want)
			}
		}
		for k := 4; k < 8; k++ { // the average over attack has died away by then
			if db := rig.DB(out[96000+9600*k] / out[96000+9600*(k-1)]); math.Abs(db+8.6859) > 0.01 {
				t.Errorf("%s falls %.3f dB in release %d; want 8.686", detection, db, k)
			}
		}
	}
}

func TestLevelIsEvenInDecibels(t *testing.T) {
	for _, c := range []struct{ db, gain, span, want float64 }{
		{0, 0, 60, 1}, {-30, 0, 60, 0.5}, {-54, 0, 60, 0.1}, {-54, 24, 60, 0.5}, {-60, 0, 96, 0.375}, {-70, 0, 60, 0}, {0, 12, 60, 1},
	} {
		amplitude := math.Pow(10, c.db/20)
		out := follow("rms", 0.01, 0.01).Set("gain", c.gain, "dB").Set("range", c.span, "dB").
			Feed("in", func(int) float64 { return amplitude }).Out("level", 24000)
		if got := out[23999]; math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%g dB with a gain of %g dB in a range of %g dB: level is %.6f; want %g", c.db, c.gain, c.span, got, c.want)
		}
	}
	if y := rig.New(Kind()).Out("level", 64)[63]; y != 0 {
		t.Errorf("silence has a level of %g", y)
	}
}

func TestAnotherDetectionGoesOnFromWhereItIs(t *testing.T) {
	out := follow("rms", 0.2, 0.5).Feed("in", rig.Sine(500)).
		Move("detection", "", func(n int) float64 { return float64(n / 24000 % 3) }).Out("out", 96000)
	for _, at := range []int{24000, 48000, 72000} {
		if d := math.Abs(out[at] - out[at-1]); d > 0.001 {
			t.Errorf("at sample %d it jumps by %.4f", at, d)
		}
	}
}

func TestItEndsInExactSilence(t *testing.T) {
	for _, detection := range []string{"mean", "rms", "peak"} {
		out := follow(detection, 0.001, 0.01).Feed("in", rig.Impulse).Out("out", 48000)
		if y := out[47999]; y != 0 || out[100] == 0 {
			t.Errorf("%s: still %g a second after an impulse", detection, y)
		}
	}
}

func TestItComesBackAfterNonsense(t *testing.T) {
	r := follow("rms", 0.01, 0.01).Feed("in", func(n int) float64 {
		if n < 100 {
			return []float64{math.NaN(), math.Inf(1), -1e300}[n%3]
		}
		return 0.5
	})
	if y := r.Out("out", 48000)[47999]; math.Abs(y-0.5) > 1e-6 || !r.Clamped {
		t.Errorf("after nonsense it reads %g; said: %v", y, r.Clamped)
	}
}

func BenchmarkLoudness(b *testing.B) {
	for _, d := range []string{"rms", "mean", "peak"} {
		b.Run(d, follow(d, 0.01, 0.1).Feed("in", rig.Sine(500)).Bench)
	}
}
