package contour

import (
	"math"

	"lampblack/patch/dsp/approx"
)

// table is the rows as the sound needs them. It is never written to once made.
type table struct {
	n     int
	level [mostRows]float64     // at the end of each row, -1 to 1
	curve [mostRows]float64     // of each row
	whole [mostRows]float64     // 1 - e^-|curve|, by which a charge is divided
	ends  [mostRows + 1]float64 // where each row begins, in samples as drawn; the last: where all end
}

func newTable(rows [][]float64, rate float64) *table {
	t := &table{n: min(len(rows), mostRows)}
	seconds := 0.0
	for k, r := range rows[:t.n] {
		seconds += r[0]
		t.ends[k+1], t.level[k], t.curve[k] = float64(seconds*rate), r[1]/100, r[2]
		t.whole[k] = approx.Charge(math.Abs(r[2]))
	}
	return t
}

// total is the length as drawn, in samples.
func (t *table) total() float64 { return t.ends[t.n] }
