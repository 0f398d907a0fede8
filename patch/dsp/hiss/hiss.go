// Package hiss tells a voice that hisses from one that sounds.
//
//	x -> below and above 2.5 kHz -> mean sizes -> which is larger
//
// Voiced speech falls by some 6 to 12 dB an octave; s, f and whispering have
// most of their power at the top (Fant, Acoustic Theory of Speech Production,
// 1960). Held by tests on both.
package hiss

import (
	"math"

	"lampblack/patch/dsp/approx"
	"lampblack/patch/dsp/bound"
)

const (
	body    = 2500  // Hz: below it a voice with a pitch has most of its power
	shuts   = 0.7   // times what lies below body: less treble is no hiss any more
	listens = 0.008 // seconds over which sizes are averaged; powers would take twice as long to forget a loud vowel
)

// Detector listens to a voice. It is made by New.
type Detector struct {
	split        Split
	step         float64
	dull, bright float64 // mean sizes
	hissing      bool
}

// New makes a detector for that many samples a second.
func New(rate float64) Detector {
	return Detector{split: NewSplit(body, rate), step: approx.Charge(1 / float64(listens*rate))}
}

// Next takes a finite sample and reports whether the voice hisses. Silence does
// not.
func (d *Detector) Next(x float64) bool {
	dull, bright := d.split.Next(x)
	d.dull += float64(d.step * (math.Abs(dull) - d.dull))
	d.bright += float64(d.step * (math.Abs(bright) - d.bright))
	switch {
	case d.bright > d.dull:
		d.hissing = true
	case d.bright < float64(shuts*d.dull), d.bright == 0:
		d.hissing = false
	}
	return d.hissing
}

// Flush forgets what has vanished. It is to be called now and then, at samples
// that do not depend on how long blocks are.
func (d *Detector) Flush() {
	d.split.Flush()
	d.dull, d.bright = bound.Flush(d.dull), bound.Flush(d.bright)
}

// Split is a Butterworth filter of order 2, low-pass and high-pass: a
// state-variable filter solved without delay (Simper, 2013).
type Split struct {
	own, cross, in2 float64
	s1, s2          float64
}

// NewSplit makes one with its corner at hz, or at 0.49 of the rate if that is
// lower.
func NewSplit(hz, rate float64) Split {
	g := approx.Tan(min(hz/rate, 0.49))
	gg := float64(g * g)
	a := 2 / (1 + gg + float64(math.Sqrt2*g))
	return Split{own: a - 1, cross: float64(a * g), in2: float64(a * gg)}
}

// Next takes a finite sample.
func (c *Split) Next(x float64) (low, high float64) {
	e := x - c.s2
	n1 := float64(c.own*c.s1) + float64(c.cross*e)
	n2 := c.s2 + (float64(c.cross*c.s1) + float64(c.in2*e))
	low = float64(0.5 * (c.s2 + n2))
	high = x - float64(math.Sqrt2/2*(c.s1+n1)) - low
	c.s1, c.s2 = n1, n2
	return low, high
}

// Flush forgets what has vanished.
func (c *Split) Flush() { c.s1, c.s2 = bound.Flush(c.s1), bound.Flush(c.s2) }
