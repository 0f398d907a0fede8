package wander

import (
	"math"
	"testing"

	"lampblack/patch/dsp/hash"
	"lampblack/patch/kind/rig"
	"lampblack/patch/module"
)

var curves = []string{"straight", "rounded", "spline"}

// kernel is the weight of a point that lies x points away: what the curves are
// by definition (the cubic B-spline is that of Schoenberg, 1946).
func kernel(curve string, x float64) float64 {
	x = math.Abs(x)
	switch {
	case curve == "straight":
		return max(1-x, 0)
	case curve == "rounded":
		x = min(x, 1)
		return 1 - x*x*(3-2*x)
	case x < 1:
		return 2.0/3 - x*x + x*x*x/2
	}
	return math.Pow(max(2-x, 0), 3) / 6
}

// The slow obvious way: every point times its weight.
func TestItIsTheSumOfWeightedPoints(t *testing.T) {
	for _, curve := range curves {
		y := rig.NewSetup(Kind(), module.Setup{Rate: 48000, Seed: 5}).Choose("curve", curve).Set("rate", 7, "Hz").Out("out", 200_000)
		for n := 0; n < len(y); n += 37 {
			x := float64(n) * 7 / 48000
			want := 0.0
			for k := int(x) - 2; k < int(x)+4; k++ {
				if k >= -1 { // point k is drawn as number k+1
					want += kernel(curve, x-float64(k)) * hash.Signed(hash.Key(5), uint64(k+1))
				}
			}
			if math.Abs(y[n]-want) > 1e-9 {
				t.Fatalf("%s: sample %d is %.12f; the sum gives %.12f", curve, n, y[n], want)
			}
		}
	}
}

// A series of independent numbers of variance 1/3, smoothed by a kernel h, has
// the variance 1/3 times the integral of h^2 (the exact fractions below are those
// integrals), and its power in a Hz is 2/(3r) H(f/r)^2. 50,000 points; the bounds
// are 5 standard deviations, about 2 % of a variance and 16 % of a line's mean.
func TestVarianceAndSpectrumAreThoseOfTheCurve(t *testing.T) {
	const rate, perPoint, segments, length = 8000.0, 80, 1000, 4000 // 100 Hz: 50 points in a segment
	for curve, integral := range map[string]float64{"straight": 2.0 / 3, "rounded": 26.0 / 35, "spline": 151.0 / 315} {
		y := rig.NewSetup(Kind(), module.Setup{Rate: rate, Seed: 11}).Choose("curve", curve).Set("rate", 100, "Hz").Out("out", segments*length)
		mean, square := 0.0, 0.0
		for _, v := range y {
			mean += v / float64(len(y))
			square += v * v / float64(len(y))
			if !(math.Abs(v) <= 1) {
				t.Fatalf("%s: it is at %g", curve, v)
			}
		}
		want := integral / 3
		t.Logf("%s: mean %.5f, variance %.5f (theory %.5f), rms %.4f", curve, mean, square, want, math.Sqrt(square))
		// The mean of 50,000 points has the deviation of one, over their root.
		if math.Abs(mean) > 5*math.Sqrt(1.0/3/50000) || math.Abs(square/want-1) > 0.02 {
			t.Errorf("%s: mean %g, variance %g; want 0, %g", curve, mean, square, want)
		}
		power := make([]float64, length/2+1)
		for s := range segments {
			part := y[s*length : (s+1)*length]
			x := make([]float64, length)
			for i := range x { // Hann: mean square 3/8
				x[i] = part[i] * (0.5 - 0.5*math.Cos(2*math.Pi*float64(i)/length))
			}
			for k, a := range rig.Lines(x)[:length/2] {
				power[k] += a * a / 2 / (3.0 / 8) / segments * length / rate
			}
		}
		for _, hz := range []int{4, 10, 22, 32, 50, 70} {
			got, theory := power[hz*length/int(rate)], 2.0/3/100*math.Pow(transform(curve, float64(hz)/100), 2)
			t.Logf("%s at %.2f of the rate: %.2f dB (theory %.2f)", curve, float64(hz)/100, 10*math.Log10(got*150), 10*math.Log10(theory*150))
			if math.Abs(got/theory-1) > 0.2 {
				t.Errorf("%s: power at %d Hz is %g; theory says %g", curve, hz, got, theory)
			}
		}
	}
}

// transform is the kernel's Fourier transform at f cycles a point, by the sum
// over 4000 slices: sinc^2 and sinc^4 for straight and spline.
func transform(curve string, f float64) (sum float64) {
	for i := range 4000 {
		x := (float64(i) + 0.5) / 1000
		sum += kernel(curve, x-2) * math.Cos(2*math.Pi*f*(x-2)) / 1000
	}
	return sum
}

// The half-power points that the help text states; scipy finds 0.31892, 0.35662
// and 0.22751.
func TestHalfPowerPointsAreAsTheHelpSays(t *testing.T) {
	for curve, f := range map[string]float64{"straight": 0.319, "rounded": 0.357, "spline": 0.228} {
		if got := 20 * math.Log10(transform(curve, f)); math.Abs(got+3.0103) > 0.03 {
			t.Errorf("%s at %g of the rate is %.3f dB down; want 3.01", curve, f, -got)
		}
	}
	sinc := math.Sin(0.3*math.Pi) / (0.3 * math.Pi)
	if got, want := transform("spline", 0.3), math.Pow(sinc, 4); math.Abs(got-want) > 1e-6 {
		t.Errorf("the spline's transform is %g; sinc^4 is %g", got, want)
	}
}

func TestRestartGoesTheSameWayAgain(t *testing.T) {
	r := rig.New(Kind()).Set("rate", 50, "Hz").Choose("curve", "spline").Feed("restart", func(n int) float64 {
		if n == 12345 {
			return 1
		}
		return 0
	})
	y := r.Out("out", 24690)
	for n := range 12345 {
		if y[12345+n] != y[n] {
			t.Fatalf("%d samples behind the restart it is at %g; it was at %g", n, y[12345+n], y[n])
		}
	}
}

// Straight lines of r points a second climb no faster than 2 r a second; the
// others are 1.5 and, by the spline's weights, 1 times as steep at most.
func TestItNeverJumps(t *testing.T) {
	for curve, steepest := range map[string]float64{"straight": 2, "rounded": 3, "spline": 2} {
		y := rig.New(Kind()).Choose("curve", curve).Set("rate", 100, "Hz").Out("out", 480_000)
		for n := 1; n < len(y); n++ {
			if math.Abs(y[n]-y[n-1]) > steepest*100/48000 {
				t.Fatalf("%s jumps from %g to %g", curve, y[n-1], y[n])
			}
		}
	}
}

func BenchmarkWander(b *testing.B) {
	for _, curve := range curves {
		b.Run(curve, rig.New(Kind()).Choose("curve", curve).Bench)
	}
}
