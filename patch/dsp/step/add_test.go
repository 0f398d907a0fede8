package step

import (
	"math"
	"testing"

	"lampblack/patch/dsp/hash"
)

// Takes are proved bit by bit, whatever processor runs them.
func TestCornersAreMendedWithTheSameBitsOnEveryProcessor(t *testing.T) {
	for _, rate := range []float64{44100, 48000} {
		table := Load(rate)
		var any, one Line
		for n := range uint64(300) {
			any.Shape(64)
			one.Shape(64)
			var corners []Corner
			for k := range uint64(40) {
				x := func(i uint64) float64 { return hash.Signed(i, 100*n+k) }
				late := min(max(x(1), 0), 1)
				corners = append(corners, Corner{int(math.Floor(30 + 34*x(2))), int(2.5 + 2.5*x(3)), late, 3 * x(4)})
			}
			any.Mend(table, corners)
			for _, c := range corners {
				table.add(one.Window(table, c.At), c)
			}
			var a, b [64]float64
			any.Take(a[:])
			one.Take(b[:])
			for i := range a {
				if math.Float64bits(a[i]) != math.Float64bits(b[i]) {
					t.Fatalf("round %d, sample %d: %g one by one, %g here", n, i, b[i], a[i])
				}
			}
		}
	}
}

func TestRowsAreAddedWithTheSameBitsOnEveryProcessor(t *testing.T) {
	if !fours {
		t.Skip("there is but one way here")
	}
	var r0, r1, one, any [28]float64
	for n := range uint64(1000) {
		for k := range r0 {
			r0[k], r1[k] = hash.Signed(1, n*64+uint64(k)), hash.Signed(2, n*64+uint64(k))
		}
		a, b := 3*hash.Signed(3, n), 3*hash.Signed(4, n)
		for k := range one {
			one[k] += float64(a*r0[k]) + float64(b*r1[k])
		}
		addTwo(any[:], r0[:], r1[:], a, b)
		for k := range one {
			if math.Float64bits(one[k]) != math.Float64bits(any[k]) {
				t.Fatalf("round %d, point %d: %g one by one, %g here", n, k, one[k], any[k])
			}
		}
	}
}
