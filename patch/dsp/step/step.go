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
	rows   = 1024       // places of a corner between two samples; between rows the table is interpolated
	beta   = 12.5       // of the Kaiser window: what must not pass is 122 dB down
)

// Table holds the differences between band-limited and sharp corners.
type Table struct {
	jumps, bends, bows [rows + 1]row
	higher             higher
}

// row belongs to corners that lie j/rows of a sample before sample Delay.
type row [Points]float64

// cutoff is the 6 dB point of the low-pass, as a part of half the sample rate.
// Around it lies a transition band 0.33 wide: at 44.1 kHz it begins near 17 kHz
// (0.06 dB are lost at 18 kHz) and ends where nothing folds below 20 kHz.
const cutoff = 0.925

var table = sync.OnceValue(newTable)

// Load returns the table. It takes a few milliseconds the first time; it is
// not for the sound thread. It is safe for any number of goroutines.
func Load() *Table { return table() }

// newTable integrates the windowed sinc once for jumps, twice for bends and
// three times for bows. The pulse is even, so only the first half is
// integrated: jump and bow are odd around their middle, the bend is even.
func newTable() *Table {
	const n = Points * rows
	const step = 1.0 / rows
	jump, bend, bow := make([]float64, n/2+1), make([]float64, n/2+1), make([]float64, n/2+1)
	pulse := make([]float64, n/2+1)
	for i := range pulse {
		pulse[i] = sinc(float64(float64(i)*step) - Delay)
	}
	for i := 1; i <= n/2; i++ { // Simpson's rule
		middle := sinc(float64((float64(i)-0.5)*step) - Delay)
		jump[i] = jump[i-1] + float64((pulse[i-1]+float64(4*middle)+pulse[i])*(step/6))
	}
	unit := 0.5 / jump[n/2] // the whole jump is from 0 to 1
	for i := range jump {
		jump[i] = float64(jump[i] * unit)
	}
	for i := 1; i <= n/2; i++ {
		// Trapezoids, with the slopes at both ends (Euler and Maclaurin).
		slopes := float64(unit * (pulse[i-1] - pulse[i]))
		bend[i] = bend[i-1] + float64((jump[i-1]+jump[i])*(step/2)) + float64(slopes*(step*step/12))
		bow[i] = bow[i-1] + float64((bend[i-1]+bend[i])*(step/2)) + float64((jump[i-1]-jump[i])*(step*step/12))
	}
	// The ripple of the low-pass leaves the bow a little beside the sharp one at
	// the end; a band-limited jump that small closes the gap without an edge.
	for i, gap := 0, float64(2*bow[n/2]); i <= n/2; i++ {
		bow[i] -= float64(gap * jump[i])
	}
	t := &Table{}
	for j := range t.jumps {
		for k := range Points {
			i, odd := k*rows+j, 1.0 // time k - Delay + j/rows
			if k >= Delay {
				i, odd = n-i, -1 // behind the middle: what is left when the sharp corner is taken away
			}
			t.jumps[j][k], t.bends[j][k], t.bows[j][k] = float64(odd*jump[i]), bend[i], float64(odd*bow[i])
		}
	}
	t.higher.fill(jump, bend, bow)
	return t
}

// sinc is the Kaiser-windowed sinc at t samples, -Delay to Delay.
func sinc(t float64) float64 {
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

// Bow adds to dst what a band-limited change of curvature differs from a sharp
// one; curvature is the change of the second derivative, per sample squared.
func (t *Table) Bow(dst *[Points]float64, late, curvature float64) {
	add(dst, &t.bows, late, curvature)
}
