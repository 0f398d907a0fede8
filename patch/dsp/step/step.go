// Package step mends the sharp corners of a waveform so that it does not alias.
//
//	shape sampled plainly + what a band-limited corner differs from a sharp one
//
// A jump (or a bend) between two samples holds all frequencies; sampled plainly,
// those above half the rate come back as false lower tones. Added to the samples
// around it, the tabulated difference turns it into the jump that a steep low-pass
// would have made of it. That begins before the jump does, so a Line is 24 samples
// late.
//
// Held by tests: the spectrum of a jump, and in package oscillator aliases and
// droop of whole waveforms.
//
// Source: Brandt, Hard sync without aliasing, ICMC 2001 (tabulated steps). The
// low-passes are the design's own: see kernel.
package step

import "sync"

const (
	Delay  = 24        // samples by which a Line is late
	Points = 2 * Delay // samples that one corner touches at most, Delay before and behind
	Orders = 5         // how many derivatives of a corner can be mended: the value, its slope, its curvature and two more
	rows   = 1024      // places of a corner between two samples; between rows the table is interpolated
)

// Table holds the differences between band-limited and sharp corners.
type Table struct {
	kernel *kernel
	stride int       // numbers from one row to the next
	order  int       // numbers from one order to the next
	cells  []float64 // the rows of all orders, one after the other, with nothing between
}

// nothing is how many zeros are before every row, and behind the last: read from
// up to three before, four samples at once lie where four samples of a Line do.
const nothing = 4

var (
	shortTable = sync.OnceValue(func() *Table { return newTable(&short) })
	longTable  = sync.OnceValue(func() *Table { return newTable(&long) })
)

// Load returns the table for a rate in samples a second: what it passes goes to 18
// kHz and what it stops folds below 20 kHz, from 44.1 kHz on; below that, both are
// the same parts of the rate as there. It takes some milliseconds the first time;
// it is not for the sound thread. It is safe for any number of goroutines.
func Load(rate float64) *Table {
	if rate < 48000 {
		return longTable()
	}
	return shortTable()
}

func newTable(h *kernel) *Table {
	t := &Table{kernel: h, stride: h.length + nothing}
	t.order = (rows + 1) * t.stride
	t.cells = make([]float64, Orders*t.order+nothing)
	n := h.length * rows
	for o, f := range h.integrals() {
		for j := range rows + 1 {
			row := t.row(o, j)
			for k := range row {
				i, sign := k*rows+j, 1.0 // time k - length/2 + j/rows
				if k >= h.length/2 {
					// Behind the middle: what is left when the sharp corner is taken
					// away. The low-pass is even, so all but the second, fourth ... are odd.
					if i = n - i; o%2 == 0 {
						sign = -1
					}
				}
				row[k] = float64(sign * f[i])
			}
		}
	}
	return t
}

// row returns the differences for corners that lie j/rows of a sample before the
// middle of the row.
func (t *Table) row(order, j int) []float64 {
	from := order*t.order + j*t.stride + nothing
	return t.cells[from : from+t.kernel.length]
}

// Passes returns the response of the low-pass at f, a part of the rate.
func (t *Table) Passes(f float64) float64 { return t.kernel.passes(f) }

// Jump adds to dst what a band-limited jump of that height differs from a
// sharp one. The jump lies late samples (0 to 1) before sample dst[Delay],
// which already stands behind it.
func (t *Table) Jump(dst *[Points]float64, late, height float64) {
	half := t.kernel.length / 2
	t.add(dst[Delay-half:Delay+half], Corner{Late: late, Height: height})
}
