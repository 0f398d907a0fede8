package gate

import (
	"math"
	"testing"
)

func TestAnEdgeIsOnePassageThroughHalf(t *testing.T) {
	var e Edge
	for i, c := range []struct {
		x    float64
		want bool
	}{{0, false}, {0.5, false}, {0.51, true}, {1, false}, {0.2, false}, {math.NaN(), false}, {9, true}, {math.NaN(), false}, {math.Inf(1), true}} {
		if got := e.Rises(c.x); got != c.want {
			t.Errorf("step %d, %g: rises %t; want %t", i, c.x, got, c.want)
		}
	}
}
