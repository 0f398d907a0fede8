package bound

import (
	"math"
	"testing"
)

func TestWhatIsSensiblePassesAndTheRestIsSaid(t *testing.T) {
	for _, c := range []struct {
		x, want float64
		clamped bool
	}{
		{0, 0, false}, {-1, -1, false}, {Most, Most, false}, {-Most, -Most, false},
		{1e9, Most, true}, {math.Inf(-1), -Most, true}, {math.Inf(1), Most, true}, {math.NaN(), 0, true},
	} {
		clamped := false
		if got := In(c.x, &clamped); got != c.want || clamped != c.clamped {
			t.Errorf("In(%g) is %g, %v; want %g, %v", c.x, got, clamped, c.want, c.clamped)
		}
	}
}

func TestFlush(t *testing.T) {
	for x, want := range map[float64]float64{1e-16: 0, -1e-16: 0, 1e-14: 1e-14, -1e-14: -1e-14, 1: 1} {
		if got := Flush(x); got != want {
			t.Errorf("Flush(%g) is %g", x, got)
		}
	}
}
