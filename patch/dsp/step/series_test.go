package step

import (
	"math"
	"testing"
)

// Every order is the integral of the one below, and nothing is left at the ends.
func TestEveryOrderIsTheIntegralOfTheOneBelow(t *testing.T) {
	for _, rate := range []float64{44100, 48000} {
		table := Load(rate)
		for o := 1; o < Orders; o++ {
			for k := range table.kernel.length {
				for j := range rows {
					slope := (table.row(o, j+1)[k] - table.row(o, j)[k]) * rows
					mean := (table.row(o-1, j+1)[k] + table.row(o-1, j)[k]) / 2
					if math.Abs(slope-mean) > 2e-6 {
						t.Fatalf("order %d, point %d, row %d: it rises by %g, the order below is %g", o, k, j, slope, mean)
					}
				}
			}
		}
		for o := range Orders {
			if e := math.Abs(table.row(o, 0)[0]) + math.Abs(table.row(o, rows)[table.kernel.length-1]); e > 1e-11 {
				t.Errorf("order %d ends at %g; want 0", o, e)
			}
			// Both halves meet in the middle, but for the jump itself.
			half := table.kernel.length / 2
			gap := table.row(o, rows)[half-1] - table.row(o, 0)[half]
			if o == 0 {
				gap--
			}
			if math.Abs(gap) > 1e-11 {
				t.Errorf("the halves of order %d are %g apart", o, gap)
			}
		}
	}
}

// Break adds each order once, at the same place, as Mend does.
func TestABreakIsTheSumOfItsOrders(t *testing.T) {
	table := Load(48000)
	d := []float64{1, 0.5, -0.25, 0.125, -0.06}
	var one, other Line
	one.Shape(64)
	other.Shape(64)
	table.Break(one.Window(table, 10), 0.3, d)
	for o, height := range d {
		other.Mend(table, []Corner{{10, o, 0.3, height}})
	}
	if one != other {
		t.Error("a break differs from its jump, bend, bow and higher orders")
	}
}
