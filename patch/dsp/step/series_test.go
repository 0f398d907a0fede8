package step

import (
	"math"
	"testing"
)

// Every order is the integral of the one below, but for the band-limited jump
// that closes the gap at the end of the odd ones, and nothing is left at the ends.
func TestEveryOrderIsTheIntegralOfTheOneBelow(t *testing.T) {
	table := Load()
	below := &table.bows
	for o := range table.higher {
		this := &table.higher[o]
		// differ returns by how much the slope differs from the order below, and
		// the slope of the jump.
		differ := func(k, j int) (more, jump float64) {
			slope := (this[j+1][k] - this[j][k]) * rows
			return slope - (below[j+1][k]+below[j][k])/2, (table.jumps[j+1][k] - table.jumps[j][k]) * rows
		}
		more, jump := differ(Delay, 0) // where the jump is steepest
		for k := range Points {
			for j := range rows {
				if a, b := differ(k, j); math.Abs(a-more/jump*b) > 1e-6 {
					t.Fatalf("order %d, point %d, row %d: the slope is %g off", o+3, k, j, a-more/jump*b)
				}
			}
		}
		if e := math.Abs(this[0][0]) + math.Abs(this[rows][Points-1]); e > 1e-12 {
			t.Errorf("order %d ends at %g; want 0", o+3, e)
		}
		below = this
	}
}

// Break adds each order once, at the same place.
func TestABreakIsTheSumOfItsOrders(t *testing.T) {
	var one, other [Points]float64
	table := Load()
	d := []float64{1, 0.5, -0.25, 0.125, -0.06}
	table.Break(&one, 0.3, d)
	table.Jump(&other, 0.3, d[0])
	table.Bend(&other, 0.3, d[1])
	table.Bow(&other, 0.3, d[2])
	add(&other, &table.higher[0], 0.3, d[3])
	add(&other, &table.higher[1], 0.3, d[4])
	if one != other {
		t.Error("a break differs from its jump, bend, bow and higher orders")
	}
}
