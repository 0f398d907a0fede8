package rc

import (
	"math"
	"testing"
)

// The complement of a = exp(-1/(fs tau)) at 48 kHz, first-order theory.
func TestStepIsThatOfFirstOrderTheory(t *testing.T) {
	var s Step
	for seconds, a := range map[float64]float64{0.001: .97938218, 0.01: .99791884, 0.1: .99979169} {
		for range 2 { // computed, then kept
			if got := 1 - s.Of(seconds*48000); math.Abs(got-a) > 1e-8 {
				t.Errorf("%g s: 1 - step is %.8f; want %.8f", seconds, got, a)
			}
		}
	}
}
