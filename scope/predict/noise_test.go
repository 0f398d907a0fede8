package predict

import (
	"fmt"
	"math"
	"math/cmplx"
	"testing"

	"gonum.org/v1/gonum/dsp/fourier"

	"lampblack/patch"
)

// bands returns the levels of x in the thirds, by FFT of all of it.
func bands(x []float64, rate float64, of []Third) []float64 {
	c := fourier.NewFFT(len(x)).Coefficients(nil, x)
	bin := rate / float64(len(x))
	out := make([]float64, len(of))
	for i, t := range of {
		sum := 0.0
		for k := int(math.Ceil(t.Hz * math.Pow(10, -0.05) / bin)); float64(k)*bin < t.Hz*math.Pow(10, 0.05); k++ {
			a := cmplx.Abs(c[k]) / float64(len(x))
			sum += 2 * a * a
		}
		out[i] = 10 * math.Log10(sum)
	}
	return out
}

// spread is how far the level of a third of an octave may lie from the mean by
// chance: four standard deviations of a mean of bandwidth x time independent powers.
func spread(hz, seconds float64) float64 {
	return 4 * 10 / math.Ln10 / math.Sqrt(0.23*hz*seconds)
}

// holdThirds compares thirds above 100 Hz, and down to 60 dB under the loudest.
func holdThirds(t *testing.T, p patch.Patch, within float64) {
	t.Helper()
	const seconds = 19.2 // nearly six swings of the hiss, and a length that is quick to transform
	r := Predict(p, heard, usual)
	if len(r.Why) > 0 || r.Thirds == nil {
		t.Fatalf("not predicted: %q", r.Why)
	}
	x := render(t, p, usual, seconds+2)[2*48000:]
	got, loudest, worst := bands(x, 48000, r.Thirds), math.Inf(-1), 0.0
	for _, b := range r.Thirds {
		loudest = math.Max(loudest, b.Level)
	}
	for i, b := range r.Thirds {
		if b.Hz < 100 || b.Level < loudest-60 {
			continue
		}
		d := math.Abs(got[i] - b.Level)
		worst = math.Max(worst, d)
		if d > within+spread(b.Hz, seconds) {
			t.Errorf("%.1f Hz: %.3f dB predicted, %.3f heard", b.Hz, b.Level, got[i])
		}
	}
	t.Logf("worst third: %.3f dB", worst)
}

// Source of the densities: Welch, IEEE Trans. AU-15(2), 1967 (white noise of
// variance s^2 has 2 s^2/rate per Hz); Campbell's theorem for ticks.
func TestColoursAreAsLoudAsPredicted(t *testing.T) {
	for _, colour := range []string{"white", "pink", "brown", "blue", "violet", "crackle"} {
		t.Run(colour, func(t *testing.T) {
			d := &desk{t, build()}
			d.put("n", "noise", "colour", colour, "density", "3000 Hz")
			d.hear("n/out")
			within := 0.02
			if colour == "crackle" {
				within = 0.3 // the powers of single ticks spread as well
			}
			holdThirds(t, *d.p, within)
		})
	}
}

// Equivalent noise bandwidth of a two-pole band-pass: pi/2 f0/Q.
func TestNoiseBehindABandHasItsPower(t *testing.T) {
	for q, want := range map[float64]float64{10: 157.08, 20: 78.54} {
		d := &desk{t, build()}
		d.put("n", "noise")
		d.put("f", "filter", "cutoff", "1 kHz", "width", fmt.Sprintf("Q %g", q))
		d.cord("n/out", "f/in", "")
		r := Predict(*d.p, patch.Socket{Module: "f", Name: "band"}, usual)
		got := power(r.Density, 1, 24000) / (1.0 / 3 / 24000)
		if math.Abs(got/want-1) > 0.01 { // the bilinear transform ends at half the rate
			t.Errorf("Q %g: a noise bandwidth of %.2f Hz; want %.2f", q, got, want)
		}
	}
}

func TestNoiseThroughPatchesIsAsLoudAsPredicted(t *testing.T) {
	for _, name := range []string{"patches/hiss.json", "patches/hiss-fixed.json", "demo/moths-1.json"} {
		t.Run(name, func(t *testing.T) {
			within := 0.05
			if name == "patches/hiss.json" {
				within = 0.3 // a third is loud for a part of each swing only
			}
			p := load(t, name)
			holdThirds(t, p, within)
		})
	}
	t.Run("two ways of one noise, one of them late", func(t *testing.T) {
		d := &desk{t, build()}
		d.put("n", "noise")
		d.put("quiet", "amplifier", "level", "-20 dB")
		d.put("late", "delay", "time", "1 ms", "feedback", "0 %", "mix", "100 %")
		d.put("m", "mixer")
		d.cord("n/out", "quiet/in", "")
		d.cord("quiet/out", "late/in", "")
		d.cord("quiet/out", "m/1", "")
		d.cord("late/out", "m/2", "")
		d.hear("m/out")
		holdThirds(t, *d.p, 0.05)
	})
	t.Run("in a ring with a tone", func(t *testing.T) {
		d := &desk{t, build()}
		d.put("n", "noise", "colour", "pink")
		d.put("f", "filter", "cutoff", "1 kHz", "width", "Q 5")
		d.put("a", "oscillator", "frequency", "3 kHz")
		d.put("r", "ring", "leak", "20 %")
		d.cord("n/out", "f/in", "")
		d.cord("f/band", "r/carrier", "")
		d.cord("a/out", "r/signal", "")
		d.hear("r/out")
		holdThirds(t, *d.p, 0.05)
	})
}
