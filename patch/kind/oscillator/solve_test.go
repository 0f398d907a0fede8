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
