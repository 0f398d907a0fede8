package line

import (
	"math"

	"lampblack/patch/dsp/weigh"
)

// The speeds at which a head moves, in samples a sample: so the pitch is at
// most an octave up and an octave down.
const (
	Nearer  = 1.0
	Further = 0.5
)

// slack is how much faster than recorded a line is read before what would pass
// half the rate is filtered away: a sixteenth passes in the kernel's own slope.
const slack = 1.0 / 16

// Head reads a Line at a place that may move. The zero value takes its first
// place at once. It may be copied.
type Head struct {
	place float64 // samples before the newest one
	step  float64 // by which the place moved last
	goal  float64 // the place asked for last
	set   bool

	fraction float64         // of the place read last
	ready    bool            // whether weights are those of fraction
	weights  [points]float64 // kept while the place stands
}

// Place returns where the head stands, in samples before the newest one.
func (h *Head) Place() float64 { return h.place }

// Jump puts the head to a place of 0 or more.
func (h *Head) Jump(place float64) { h.place, h.step, h.goal, h.set = place, 0, place, true }

// Toward moves the head to a place of 0 or more, as far as it gets in one
// sample: its step changes by no more than gain, so that the pitch does not jump,
// and it brakes in time. Where it can it stands on the place exactly. A gain of
// 100/rate takes the pitch up an octave in 10 ms.
func (h *Head) Toward(place, gain float64) {
	if !h.set {
		h.Jump(place)
		return
	}
	d, pace := place-h.place, place-h.goal
	behind := d - pace // the way to where place was
	h.goal = place
	if d == 0 && h.step == 0 {
		return
	}
	if math.Abs(d-h.step) <= gain && d <= Further && d >= -Nearer {
		h.step, h.place = d, place
		return
	}
	// Along with the place, and so much faster that braking by gain each sample
	// ends on it.
	v := math.Sqrt(float64(0.25*float64(gain*gain))+float64(2*float64(gain*math.Abs(behind)))) - float64(0.5*gain)
	if behind < 0 {
		v = -v
	}
	v = min(max(v+pace, -Nearer), Further)
	h.step += min(max(v-h.step, -gain), gain)
	h.place = max(h.place+h.step, 0)
}

// Read returns what lies under the head.
func (h *Head) Read(l *Line) float64 {
	d := h.place
	n := int(d)
	f := d - float64(n)
	if h.step < -slack || n < half-1 && f != 0 {
		h.ready = false
		return kernel().wide(l, d, max(1-h.step-slack, 1))
	}
	if f == 0 {
		return l.Whole(n)
	}
	return h.weigh(l.around(n), f)
}

// weigh reads f of a sample behind the middle of x. A place that stands keeps its
// weights.
func (h *Head) weigh(x []float64, f float64) float64 {
	if f != h.fraction {
		h.fraction, h.ready = f, false
		return kernel().read(x, f)
	}
	if !h.ready {
		h.ready = true
		kernel().weights(&h.weights, f)
	}
	return weigh.Sum(x, h.weights[:])
}

// around returns the samples around the nth before the newest one.
func (l *Line) around(n int) []float64 {
	from := (l.at - n - half) & l.mask
	return l.x[from : from+points]
}

// Both is Read of two lines that are read by heads side by side.
func (h *Head) Both(a, b *Line) (x, y float64) {
	n := int(h.place)
	f := h.place - float64(n)
	if h.step < -slack || n < half-1 || f == 0 || f == h.fraction {
		return h.Read(a), h.Read(b)
	}
	h.fraction, h.ready = f, false
	return kernel().read(a.around(n), f), kernel().read(b.around(n), f)
}
