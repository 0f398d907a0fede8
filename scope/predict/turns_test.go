package predict

import (
	"math"
	"math/cmplx"
	"testing"
)

// Arithmetic: after turns cycles a movement is back within 1/64 of a sample.
func TestTurnsEndOnWholeSamples(t *testing.T) {
	for _, hz := range []float64{0.1, 0.37, 2, 3.3, 17.3, 90.3, 440} {
		turns, samples := turnsOf(hz, 48000)
		if off := math.Abs(float64(samples)-float64(turns)*48000/hz) / float64(samples); turns < 1 || off > 4e-6 {
			t.Errorf("%g Hz: %d turns in %d samples, %.1g off", hz, turns, samples, off)
		}
	}
}

// Both ways of working out a loop are one answer.
func TestMarchingAndSolvingAgree(t *testing.T) {
	const n, rate = 24000, 48000.0
	cycle := make([]values, n)
	for i := range cycle {
		cycle[i] = values{v: []float64{2000 * math.Exp2(0.2*math.Sin(2*math.Pi*float64(i)/n)), 2, 1, 1}, scale: []int{0, 1, 0, 0}}
	}
	for out := range 4 {
		l := stateVariableLoops(cycle, out, rate)
		for _, hz := range []float64{220, 990, 5000} {
			solved, ok := l.gains(2*math.Pi*hz/rate, 2*math.Pi/n)
			marched, too := l.march(2*math.Pi*hz/rate, 1)
			if !ok || !too {
				t.Fatalf("output %d at %g Hz: %v, %v", out, hz, ok, too)
			}
			for i := range solved {
				if cmplx.Abs(solved[i]-marched[i]) > 1e-5 {
					t.Fatalf("output %d at %g Hz: %v solved, %v marched", out, hz, solved[i], marched[i])
				}
			}
		}
	}
}
