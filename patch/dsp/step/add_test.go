package step

import (
	"math"
	"testing"

	"lampblack/patch/dsp/hash"
)

// Takes are proved bit by bit, whatever processor runs them.
func TestRowsAreAddedWithTheSameBitsOnEveryProcessor(t *testing.T) {
	var r0, r1, one, any [Points]float64
	for n := range uint64(1000) {
		for k := range r0 {
			r0[k], r1[k] = hash.Signed(1, n*64+uint64(k)), hash.Signed(2, n*64+uint64(k))
		}
		a, b := 3*hash.Signed(3, n), 3*hash.Signed(4, n)
		addOnes(&one, &r0, &r1, a, b)
		addRows(&any, &r0, &r1, a, b)
		for k := range one {
			if math.Float64bits(one[k]) != math.Float64bits(any[k]) {
				t.Fatalf("round %d, point %d: %g one by one, %g here", n, k, one[k], any[k])
			}
		}
	}
}
