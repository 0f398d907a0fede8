package oscillator

import (
	"math"
	"testing"

	"lampblack/patch/dsp/hash"
)

// Takes are proved bit by bit, whatever processor runs them; and what is found is
// where the curve has gone so far.
func TestCurvesAreSolvedWithTheSameBitsOnEveryProcessor(t *testing.T) {
	for round := range uint64(200) {
		var one, any solver
		n := 1 + int(round%solved)
		for i := range n {
			x := func(k uint64) float64 { return hash.Signed(k, 100*round+uint64(i)) }
			for k := range reaches {
				one.steps[k][i] = 0.1 * (2 + math.Sin(float64(k)*x(1)+3*x(2)))
			}
			one.far[i] = one.steps[along][i] * (0.5 + 0.5*x(3))
		}
		any.steps, any.far = one.steps, one.far
		for i := range n {
			one.one(i, true)
		}
		if fours {
			solveFours(&any, &coefficients, n, true)
		} else {
			any = one
		}
		for i := range n {
			for name, pair := range map[string][2]float64{
				"time": {one.time[i], any.time[i]}, "slope": {one.slope[i], any.slope[i]}, "second": {one.second[i], any.second[i]},
				"third": {one.third[i], any.third[i]}, "fourth": {one.fourth[i], any.fourth[i]},
			} {
				if math.Float64bits(pair[0]) != math.Float64bits(pair[1]) {
					t.Fatalf("round %d, curve %d: %s is %v one by one, %v here", round, i, name, pair[0], pair[1])
				}
			}
			var steps [reaches]float64
			for k := range steps {
				steps[k] = one.steps[k][i]
			}
			var q curve
			q.through(&steps)
			if got := q.at(one.time[i]); q.tame && math.Abs(got-one.far[i]) > 1e-9 {
				t.Errorf("round %d, curve %d: at %g it has gone %g; want %g", round, i, one.time[i], got, one.far[i])
			}
		}
	}
}

func TestStepsAreMarkedAlikeOnEveryProcessor(t *testing.T) {
	if !fours {
		t.Skip("there is but one way here")
	}
	var places, widths [72]int64
	var steps [72]float64
	for round := range uint64(500) {
		for i := range places {
			x := func(k uint64) float64 { return hash.Signed(k, 100*round+uint64(i)) }
			places[i] = fixed(float64(i)*x(9) + 0.3*x(1))
			widths[i] = fixed(0.5 + 0.4*x(2))
			steps[i] = 1 + 1.3*x(3)
		}
		n := 1 + int(round%64)
		// Slices without room behind are done one by one.
		for name, pair := range map[string][2]uint64{
			"crossed":   {crossed(places[:n+1:n+1], n, 1, half), crossed(places[:], n, 1, half)},
			"overtaken": {overtaken(places[:n+1:n+1], widths[:], n), overtaken(places[:], widths[:], n)},
			"turning":   {turning(steps[:n+2:n+2], n), turning(steps[:], n)},
		} {
			if pair[0] != pair[1] {
				t.Fatalf("round %d: %s is %b one by one, %b here", round, name, pair[0], pair[1])
			}
		}
		var many [68]float64
		bendsMany(&many[0], &steps[0], min(n, 61))
		for i, got := range many[:min(n, 61)] {
			if want := bendsOnes((*[reaches]float64)(steps[i:])); got != want {
				t.Fatalf("round %d, step %d: bends are %v one by one, %v of many", round, i, want, got)
			}
		}
		s := (*[reaches]float64)(steps[round%8:])
		if one, any := bendsOnes(s), bends(s); one != any {
			t.Fatalf("round %d: bends are %v one by one, %v here", round, one, any)
		}
	}
}
