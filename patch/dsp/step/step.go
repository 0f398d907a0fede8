// Package step mends the sharp corners of a waveform so that it does not alias.
//
//	shape sampled plainly + what a band-limited corner differs from a sharp one
//
// A jump (or a bend) between two samples holds all frequencies; sampled plainly,
// those above half the rate come back as false lower tones. Added to the 48
// samples around it, the tabulated difference turns it into the jump that a
// steep low-pass (a Kaiser-windowed sinc) would have made of it. That begins
// before the jump does, so a Line is 24 samples late.
//
// Held by tests: the spectrum of a jump, and in package oscillator aliases and
// droop of whole waveforms.
//
// Source: Brandt, Hard sync without aliasing, ICMC 2001 (tabulated steps);
// Kaiser, Nonrecursive digital filter design using the I0-sinh window, 1974.
package step

import (
	"math"
	"sync"

	"lampblack/patch/dsp/approx"
)

const (
	Points = 48         // samples that one corner touches
	Delay  = Points / 2 // samples by which a Line is late
	rows   = 512        // places of a corner between two samples; between rows the table is interpolated
	beta   = 11         // of the Kaiser window: side lobes 110 dB down, falling on
)

// Table holds the differences between band-limited and sharp corners.
type Table struct {
	jumps, bends [rows + 1]row
}

// row belongs to corners that lie j/rows of a sample before sample Delay.
type row [Points]float64

var tables struct {
	sync.Mutex
	byCutoff map[float64]*Table
}

// For returns the table for a sample rate. It takes a few milliseconds the
// first time; it is not for the sound thread. It is safe for any number of
// goroutines.
func For(rate float64) *Table {
	// The transition band is 0.29 of half the rate wide. At 48 kHz and above it
	// ends where nothing folds below 20 kHz, and begins above 18 kHz; at 44.1
	// kHz there is room for that only when it is moved up.
	cutoff := 0.91
	if rate > 43000 && rate < 47000 {
		cutoff = 0.955
	}
	tables.Lock()
	defer tables.Unlock()
	if t := tables.byCutoff[cutoff]; t != nil {
		return t
	}
	if tables.byCutoff == nil {
		tables.byCutoff = map[float64]*Table{}
	}
	t := newTable(cutoff)
	tables.byCutoff[cutoff] = t
	return t
}

// newTable integrates the windowed sinc once for jumps and twice for bends.
// cutoff is its 6 dB point as a part of half the sample rate.
func newTable(cutoff float64) *Table {
	const n = Points * rows
	jump, bend := make([]float64, n+1), make([]float64, n+1)
	// Only the first half is integrated: the pulse is even, so the jump from 0
	// to 1 is odd around its middle, 1/2.
	for i := 1; i <= n/2; i++ {
		jump[i] = jump[i-1] + area(cutoff, float64(i-1)/rows-Delay, 1.0/rows)
	}
	unit := 0.5 / jump[n/2]
	for i := 0; i <= n/2; i++ {
		jump[i] = float64(jump[i] * unit)
		jump[n-i] = 1 - jump[i]
	}
	for i := 1; i <= n/2; i++ {
		// Trapezoids, with the slopes at both ends (Euler and Maclaurin).
		a, b := float64(i-1)/rows-Delay, float64(i)/rows-Delay
		ends := float64(unit * (sinc(cutoff, a) - sinc(cutoff, b)))
		bend[i] = bend[i-1] + float64((jump[i-1]+jump[i])*(0.5/rows)) + ends*(1.0/(12*rows*rows))
	}
	for i := 0; i < n/2; i++ {
		bend[n-i] = bend[i] // what is left after the sharp bend is taken away is even
	}
	t := &Table{}
	for j := range t.jumps {
		for k := range Points {
			i := k*rows + j // time k - Delay + j/rows
			t.jumps[j][k] = jump[i]
			t.bends[j][k] = bend[i]
			if k >= Delay {
				t.jumps[j][k] = -jump[n-i] // jump - 1, without the loss of digits
			}
		}
	}
	return t
}

// area integrates the windowed sinc from a to a+w (three-point Gauss rule; w is
// a small part of a sample, so the error is far below 1e-16).
func area(cutoff, a, w float64) float64 {
	const node = 0.7745966692414834 // sqrt(3/5)
	m, h := a+w/2, w/2
	sum := float64(8*sinc(cutoff, m)) + float64(5*(sinc(cutoff, m-float64(node*h))+sinc(cutoff, m+float64(node*h))))
	return float64(sum*h) / 9
}

// sinc is the Kaiser-windowed sinc at t samples, -Delay to Delay.
func sinc(cutoff, t float64) float64 {
	x := t / Delay
	w := approx.BesselI0(float64(beta * math.Sqrt(max(1-float64(x*x), 0))))
	if t == 0 {
		return float64(cutoff * w)
	}
	p := float64(cutoff * t / 2) // cycles
	return float64(approx.Sine(p-math.Floor(p))*w) / float64(math.Pi*t)
}

// Jump adds to dst what a band-limited jump of that height differs from a
// sharp one. The jump lies late samples (0 to 1) before sample dst[Delay],
// which already stands behind it.
func (t *Table) Jump(dst *[Points]float64, late, height float64) {
	add(dst, &t.jumps, late, height)
}

// Bend adds to dst what a band-limited change of slope differs from a sharp
// one; slope is the change, per sample.
func (t *Table) Bend(dst *[Points]float64, late, slope float64) {
	add(dst, &t.bends, late, slope)
}

func add(dst *[Points]float64, table *[rows + 1]row, late, scale float64) {
	at := float64(late * rows)
	j := min(max(int(at), 0), rows-1)
	b := float64(scale * (at - float64(j)))
	a := scale - b
	r0, r1 := &table[j], &table[j+1]
	for k := range dst {
		dst[k] += float64(a*r0[k]) + float64(b*r1[k])
	}
}
