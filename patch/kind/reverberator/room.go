package reverberator

import (
	"math"

	"lampblack/patch/dsp/approx"
	"lampblack/patch/dsp/line"
)

const (
	fadeSeconds     = 0.05
	patienceSeconds = 0.08 // for how long one waits for size and predelay to stand still
	swaying         = 4    // every so many lines one sways
)

// ratios are the lengths of the lines against their mean: 3^(i/15), so that no
// two of them have many echoes in common.
var ratios = func() (r [lines]float64) {
	sum := 0.0
	for i := range r {
		r[i] = approx.Exp2(float64(float64(i) * (1.584962500721156 / (lines - 1))))
		sum += r[i]
	}
	for i := range r {
		r[i] *= lines / sum
	}
	return
}()

// place is where a room's heads stand.
type place struct {
	size, predelay float64 // as asked for, in s
	lengths        [lines]int
	wait           int // samples of predelay
}

func (p *place) set(size, predelay, rate float64) {
	p.size, p.predelay = size, predelay
	p.wait = int(float64(predelay*rate) + 0.5)
	for i, r := range ratios {
		p.lengths[i] = max(int(float64(float64(size*rate)*r)+0.5), 1)
	}
}

// room is the lines and where they are read.
type room struct {
	rate      float64
	lines     [lines]line.Line
	now, next place
	fade      float64 // how far it has gone from now to next, 0 to 1; 0: there is none
	waited    int     // samples since now is not what is asked for
	last      place   // only what was asked for at the last sample
	lengths   [lines]float64
	mean      float64
	phase     [lines / swaying]float64      // cycles of what sways
	heads     [2][lines / swaying]line.Head // of the lines that sway: now's and next's
	started   bool
	steps     [lines / swaying]float64 // of the phases, in a sample
	gain      float64                  // of a head's step, in a sample
}

// rates are those of the lines that sway, in Hz.
var rates = [lines / swaying]float64{0.31, 0.43, 0.59, 0.73}

func newRoom(rate float64) room {
	r := room{rate: rate, gain: 100 / rate}
	for k, hz := range rates {
		r.steps[k] = hz / rate
	}
	for i, ratio := range ratios {
		r.lines[i] = line.New(float64((float64(longestSize*ratio) + longestSway) * rate))
	}
	return r
}

// follow goes over to another size and predelay. It reports whether the lengths
// change.
func (r *room) follow(size, predelay float64) bool {
	switch {
	case !r.started:
		r.started = true
		r.now.set(size, predelay, r.rate)
		r.weigh(0)
		return true
	case r.fade > 0:
		if r.fade += 1 / (fadeSeconds * r.rate); r.fade >= 1 {
			r.now, r.fade = r.next, 0
			r.heads[0] = r.heads[1]
		}
		r.weigh(r.fade)
		return true
	case size == r.now.size && predelay == r.now.predelay:
		r.waited = 0
	default:
		r.waited++
		if size == r.last.size && predelay == r.last.predelay || r.waited > int(patienceSeconds*r.rate) {
			r.next.set(size, predelay, r.rate)
			r.heads[1] = [lines / swaying]line.Head{}
			r.fade, r.waited = 1/(fadeSeconds*r.rate), 0
		}
	}
	r.last.size, r.last.predelay = size, predelay
	return false
}

// weigh computes the lengths for absorption, part of the way from now to next.
func (r *room) weigh(fade float64) {
	r.mean = 0
	for i := range r.lengths {
		m := float64(r.now.lengths[i])
		if fade > 0 {
			m += float64(fade * float64(r.next.lengths[i]-r.now.lengths[i]))
		}
		r.lengths[i] = m
		r.mean += float64(m * (1.0 / lines))
	}
}

// read takes what comes out of the lines. The newest sample in them is one old.
func (r *room) read(x *[lines]float64, sway float64) {
	for i := range x {
		if i%swaying != 0 {
			x[i] = r.lines[i].Whole(r.now.lengths[i] - 1)
		}
	}
	r.sway(x, sway, 0, &r.now)
	if r.fade == 0 {
		return
	}
	var y [lines]float64
	for i := range y {
		if i%swaying != 0 {
			y[i] = r.lines[i].Whole(r.next.lengths[i] - 1)
		}
	}
	r.sway(&y, sway, 1, &r.next)
	for i := range x {
		x[i] += float64(r.fade * (y[i] - x[i]))
	}
}

// sway reads the lines that sway, around the lengths of p.
func (r *room) sway(x *[lines]float64, sway float64, heads int, p *place) {
	for k := range r.phase {
		i := k * swaying
		at := float64(p.lengths[i] - 1)
		if sway > 0 {
			at += float64(min(sway, 0.5*at) * approx.Sine(r.phase[k]))
		}
		h := &r.heads[heads][k]
		h.Toward(at, r.gain)
		x[i] = h.Read(&r.lines[i])
	}
}

// turn moves the phases on.
func (r *room) turn() {
	for k := range r.phase {
		r.phase[k] += r.steps[k]
		if r.phase[k] >= 1 {
			r.phase[k]--
		}
	}
}

// hadamard multiplies x by the Hadamard matrix of order 16 and a quarter, which
// keeps the sum of the squares.
func hadamard(x *[lines]float64) {
	for i := 0; i < lines; i += 4 {
		a, b, c, d := x[i]+x[i+1], x[i]-x[i+1], x[i+2]+x[i+3], x[i+2]-x[i+3]
		x[i], x[i+1], x[i+2], x[i+3] = a+c, b+d, a-c, b-d
	}
	for i := range 4 {
		p, q, r, s := x[i], x[i+4], x[i+8], x[i+12]
		a, b, c, d := p+q, p-q, r+s, r-s
		x[i], x[i+4], x[i+8], x[i+12] = float64(0.25*(a+c)), float64(0.25*(b+d)), float64(0.25*(a-c)), float64(0.25*(b-d))
	}
}

// put records what goes back into the lines.
func (r *room) put(x *[lines]float64, clamped *bool) {
	for i, v := range x {
		if a := math.Abs(v); !(a <= line.Loudest) {
			v = line.Safe(v, clamped)
		}
		r.lines[i].Put(vanish(v))
	}
}
