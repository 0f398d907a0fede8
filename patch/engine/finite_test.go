package engine

import (
	"math"
	"testing"
)

// beyond against the same written plainly, with each value at each place of
// slices of every length up to two rounds of four.
func TestBeyondFindsWhatIsTooLargeWhereverItStands(t *testing.T) {
	values := []float64{0, 1, -MaxSignal, MaxSignal, math.Nextafter(MaxSignal, 2*MaxSignal), -math.Nextafter(MaxSignal, 2*MaxSignal),
		math.Inf(1), math.Inf(-1), math.NaN(), math.Copysign(math.NaN(), -1), math.MaxFloat64, 5e-324}
	for n := 1; n <= 9; n++ {
		for at := range n {
			for _, v := range values {
				x := make([]float64, n)
				x[at] = v
				if got, want := beyond(x, MaxSignal), !(math.Abs(v) <= MaxSignal); got != want {
					t.Errorf("%g at %d of %d among zeros: %t, want %t", v, at, n, got, want)
				}
				for i := range x {
					if i != at {
						x[i] = MaxSignal // the largest that is allowed, so that the sum of squares tells nothing
					}
				}
				if got, want := beyond(x, MaxSignal), !(math.Abs(v) <= MaxSignal); got != want {
					t.Errorf("%g at %d of %d: %t, want %t", v, at, n, got, want)
				}
			}
		}
	}
}

func TestLimitBringsEverythingWithinBounds(t *testing.T) {
	x := []float64{math.NaN(), math.Inf(1), math.Inf(-1), 9, -9, 8, -8, 0.5}
	limit(x, 8)
	want := []float64{0, 0, 0, 8, -8, 8, -8, 0.5}
	if i := differ(x, want); i >= 0 {
		t.Errorf("%v, want %v", x, want)
	}
}
