package vocoder

import (
	"math"

	"lampblack/patch/dsp/approx"
	"lampblack/patch/dsp/bound"
)

const (
	hissing = 4000  // Hz: where the voice's treble begins
	body    = 2500  // Hz: below it a voice with a pitch has most of its power
	shuts   = 0.7   // times what lies below body: less treble shuts it again
	listens = 0.008 // seconds over which sizes are averaged; powers would take twice as long to forget a loud vowel
	turns   = 0.005 // time constant in seconds with which the treble opens and shuts
)

// hiss lets the voice's treble through while the voice hisses: while it is
// larger above body than below. (Voiced speech falls by some 6 to 12 dB an
// octave; s and f have most of their power above 4 kHz: Fant, 1960.)
type hiss struct {
	body, treble corner2
	listen, turn float64
	dull, bright float64 // mean sizes
	aim, open    float64 // 0 to 1
}

func newHiss(rate float64) hiss {
	var h hiss
	h.body.pair = newPair(approx.Tan(min(body/rate, edgeMost)), math.Sqrt2)
	h.treble.pair = newPair(approx.Tan(min(hissing/rate, edgeMost)), math.Sqrt2)
	h.listen = approx.Charge(1 / float64(listens*rate))
	h.turn = approx.Charge(1 / float64(turns*rate))
	return h
}

// corner2 is a Butterworth filter of order 2, low-pass and high-pass.
type corner2 struct {
	pair
	s1, s2 float64
}

func (c *corner2) next(x float64) (low, high float64) {
	e := x - c.s2
	n1 := float64(c.own*c.s1) + float64(c.cross*e)
	n2 := c.s2 + (float64(c.cross*c.s1) + float64(c.in2*e))
	low = float64(0.5 * (c.s2 + n2))
	high = x - float64(0.5*c.k*(c.s1+n1)) - low
	c.s1, c.s2 = n1, n2
	return low, high
}

// run fills out with the treble that passes, and open with how far it is open.
func (h *hiss) run(x, out, open []float64) {
	for i, v := range x {
		dull, bright := h.body.next(v)
		_, top := h.treble.next(v)
		h.dull += float64(h.listen * (math.Abs(dull) - h.dull))
		h.bright += float64(h.listen * (math.Abs(bright) - h.bright))
		switch {
		case h.bright > h.dull:
			h.aim = 1
		case h.bright < float64(shuts*h.dull), h.bright == 0:
			h.aim = 0
		}
		h.open += float64(h.turn * (h.aim - h.open))
		out[i], open[i] = float64(top*h.open), h.open
	}
}

// flush forgets what has vanished.
func (h *hiss) flush() {
	for _, v := range [...]*float64{&h.body.s1, &h.body.s2, &h.treble.s1, &h.treble.s2, &h.dull, &h.bright, &h.open} {
		*v = bound.Flush(*v)
	}
}
