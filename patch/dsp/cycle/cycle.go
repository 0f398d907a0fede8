// Package cycle counts the cycles of a rate without drift.
//
//	rate / sample rate -> whole cycles, and how far into the next
//
// A phase that grows by one step after the other gathers a rounding error with
// every sample, and after some minutes a beat lands one sample off. Here the
// steps are counted, and the phase is their number times the step.
package cycle

import "math"

// nearly is how far below a whole number, in cycles, a phase counts as there
// already: 48,000 steps of 1/48,000 are one cycle, whatever the last bit says.
const nearly = 1e-9

// refold is after how many cycles the count starts anew, so that the product
// stays far more exact than nearly.
const refold = 1 << 20

// Counter is a phase. The zero value stands at the start of cycle 0.
type Counter struct {
	whole int64   // cycles up to base
	base  float64 // the phase, about 0 to 1, at which the present step began
	n     float64 // how many steps ago that was
	step  float64 // cycles a sample
}

// Next returns where this sample stands, whole cycles and the part 0 to 1 of the
// next, and goes on by step (cycles, 0 or more) to the next sample. A jump of the
// step bends the phase and does not move it.
func (c *Counter) Next(step float64) (whole int64, part float64) {
	p := c.base + float64(c.n*c.step)
	f := math.Floor(p + nearly)
	if step != c.step || f >= refold {
		c.whole += int64(f)
		c.base, c.n, c.step = p-f, 0, step
		p, f = c.base, 0
	}
	c.n++
	return c.whole + int64(f), max(p-f, 0)
}
