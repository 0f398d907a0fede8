package instruments

import (
	"testing"
)

func TestTheSwitchesStepBy1And2And5(t *testing.T) {
	for _, c := range []struct {
		from float64
		n    int
		want float64
	}{
		{0.02, 1, 0.05}, {0.02, -1, 0.01}, {0.01, -1, 0.005}, {0.05, 1, 0.1}, {20e-6, -1, 10e-6}, {10e-6, -1, 10e-6}, {10, 1, 10}, {0.005, 2, 0.02}, {0.01, 1, 0.02}, {0.001, 1, 0.002},
	} {
		if got := step(c.from, c.n, leastTime, mostTime); got != c.want {
			t.Errorf("%d steps from %g: %g, want %g", c.n, c.from, got, c.want)
		}
	}
	for v := leastTime; v < mostTime; v = step(v, 1, leastTime, mostTime) {
		if back := step(step(v, 1, leastTime, mostTime), -1, leastTime, mostTime); back != v {
			t.Errorf("up and down from %g ends at %g", v, back)
		}
	}
}
