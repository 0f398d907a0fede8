package wave

import (
	"math"
	"testing"
)

// The ideal shapes by the sums of their Fourier series, which converge to the
// middle of a jump; 20,000 terms are within 1e-3 away from jumps.
func TestShapesAreTheSumsOfTheirSeries(t *testing.T) {
	series := func(p float64, term func(n float64) float64) (sum float64) {
		for n := 1.0; n < 20000; n++ {
			sum += term(n) * math.Sin(2*math.Pi*n*p)
		}
		return sum
	}
	sign := func(n float64) float64 { return 1 - 2*math.Mod(n, 2) } // -1 for odd n
	for p := 0.013; p < 1; p += 0.0371 {
		saw := series(p, func(n float64) float64 { return -sign(n) * 2 / (math.Pi * n) })
		if math.Abs(p-0.5) > 0.02 && math.Abs(saw-Saw(p)) > 1e-3 {
			t.Errorf("saw at %g is %g; its series gives %g", p, Saw(p), saw)
		}
		triangle := series(p, func(n float64) float64 {
			if math.Mod(n, 2) == 0 {
				return 0
			}
			return sign((n-1)/2) * 8 / math.Pow(math.Pi*n, 2)
		})
		if math.Abs(triangle-Triangle(p)) > 1e-3 {
			t.Errorf("triangle at %g is %g; its series gives %g", p, Triangle(p), triangle)
		}
		// A pulse is a constant and two saws, one of them turned and late.
		const width = 0.3
		pulse := 2*width - 1
		for n := 1.0; n < 20000; n++ {
			pulse += 2 / (math.Pi * n) * (math.Sin(2*math.Pi*n*p) - math.Sin(2*math.Pi*n*(p-width)))
		}
		if math.Abs(p-width) > 0.02 && math.Abs(pulse-Pulse(p, width)) > 2e-3 {
			t.Errorf("pulse at %g is %g; its series gives %g", p, Pulse(p, width), pulse)
		}
	}
}
