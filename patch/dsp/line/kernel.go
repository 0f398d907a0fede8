package line

import (
	"math"
	"sync"

	"lampblack/patch/dsp/approx"
	"lampblack/patch/dsp/weigh"
)

const (
	half   = 16 // samples on either side of a place that are read
	points = 2 * half
	rows   = 512 // places between two samples in the tables; between them they are interpolated
	beta   = 10  // of the Kaiser window: side lobes 100 dB down
)

// tables hold the windowed sinc.
type tables struct {
	// rows[j] are the weights of 32 samples, the oldest first, for a place j/rows
	// older than the 17th of them. Their sum is 1.
	rows [rows + 1][points]float64

	sinc   [half*rows + 2]float64 // sin(pi x)/(pi x), x from 0 on in steps of 1/rows
	window [half*rows + 2]float64 // 1 to 0 over the same number of steps
}

var kernel = sync.OnceValue(newTables)

func newTables() *tables {
	t := &tables{}
	edge := 1 / approx.BesselI0(beta)
	for i := range half * rows {
		t.sinc[i] = approx.Sinc(float64(i) / rows)
		if i > 0 && i%rows == 0 {
			t.sinc[i] = 0 // exactly, so that whole places are copied
		}
		u := float64(i) / (half * rows)
		w := float64(approx.BesselI0(float64(beta*math.Sqrt(1-float64(u*u)))) * edge)
		t.window[i] = (w - edge) / (1 - edge) // ends in 0 without a step
	}
	at := func(i int) float64 { return float64(t.sinc[i] * t.window[i]) }
	for j := range t.rows {
		row, sum := &t.rows[j], 0.0
		for k := range half {
			row[half-1-k] = at((k+1)*rows - j)
			row[half+k] = at(k*rows + j)
		}
		for _, w := range row {
			sum += w
		}
		for k := range row {
			row[k] /= sum
		}
	}
	return t
}

// weights fills w for a place f of a sample, 0 to 1, older than a whole one.
func (t *tables) weights(w *[points]float64, f float64) {
	f = float64(f * rows)
	j := int(f)
	f -= float64(j)
	a, b := &t.rows[j], &t.rows[j+1]
	for i := range w {
		w[i] = a[i] + float64(f*(b[i]-a[i]))
	}
}

// read weighs x by the weights for a place f of a sample, 0 to 1, older than a
// whole one.
func (t *tables) read(x []float64, f float64) float64 {
	f = float64(f * rows)
	j := int(f)
	return weigh.Between(x, t.rows[j][:], t.rows[j+1][:], f-float64(j))
}

// wide reads place d with a sinc stretched by speed (1 or more), so that what
// would pass half the rate does not fold. Near the newest sample the window is
// as wide as there are samples: it never reaches into the future, and ends in
// a plain copy of the newest one at place 0.
func (t *tables) wide(l *Line, d, speed float64) float64 {
	reach := min(float64(half*speed), d+1)
	squeeze := rows / speed
	narrow := half * rows / reach
	first, last := int(math.Floor(d-reach))+1, int(math.Ceil(d+reach))
	sum, total := 0.0, 0.0
	for k := first; k < last; k++ {
		x := math.Abs(float64(k) - d)
		w := float64(between(&t.sinc, float64(x*squeeze)) * between(&t.window, float64(x*narrow)))
		total += w
		sum += float64(w * l.Whole(k))
	}
	return sum / total
}

// between reads a table between its entries; u is 0 to half*rows.
func between(table *[half*rows + 2]float64, u float64) float64 {
	j := min(int(u), half*rows)
	u -= float64(j)
	return table[j] + float64(u*(table[j+1]-table[j]))
}
