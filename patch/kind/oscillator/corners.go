package oscillator

import (
	"math"

	"lampblack/patch/dsp/lanes"
	"lampblack/patch/dsp/step"
)

// fastest is how far, in cycles, the phase may go between two samples for its
// corners to be mended. Beyond (at four times half the rate) no shape is left to be
// heard; what is not mended aliases, but stays within the shape's own peaks, and
// costs nothing.
const fastest = 2

// mostCorners is how many corners are mended on one piece of the way.
const mostCorners = 2 * fastest

// corner is what happens at a corner that a rising path passes.
type corner int

const (
	fall corner = iota // the shape falls from 1 to -1
	leap               // it rises from -1 to 1
	peak               // it turns: at a peak where the place is even, at a dip where it is odd
)

// counted is a place whose cycles begin where the shape's corners are, and from
// 0 on count them: of a saw the fall in the middle of a cycle, of a triangle its
// two corners, of a pulse the falls where the phase passes the width. (The leap of a
// pulse lies where cycles begin.) Every corner is mended between two counts, and the
// shape is computed from them: so rounding can't lose one or mend it twice.
func (s *sound) counted(place, width int64) int64 {
	switch s.shape {
	case triangle:
		return 2*place - half
	case saw:
		return place - half
	}
	return place - width
}

// shaped is the plain shape at a place.
func (s *sound) shaped(place, width int64) float64 {
	switch s.shape {
	case triangle:
		return triangleAt(place)
	case saw:
		return sawAt(place)
	case pulse:
		return pulseAt(place, width)
	}
	return lanes.Tone(turn(place))
}

// The shapes. All rise through 0 at place 0, or do so with their fundamental.
func sawAt(place int64) float64 { return float64(float64(int64(turn(place))) * (1.0 / (1 << 63))) }

func triangleAt(place int64) float64 {
	return math.Abs(float64(float64(int64(turn(place+cycle/4)))*(1.0/(1<<62)))) - 1
}

func pulseAt(place, width int64) float64 {
	return float64(2*((place>>digits-(place-width)>>digits)&1) - 1)
}

// way is a step from one sample to the next whose corners are mended.
type way struct {
	at          int   // the sample behind it
	from, to    int64 // places, as if nothing set it back
	width, next int64 // of the pulse, at both ends
	over        int64 // how far it may go beyond its ends
	e, w, q     curve // how the place goes, the width, and the place past the width
	reset       float64
	back        int64 // when and by how much it is set back; never if reset is below 0
}

// mend mends the corners of step k of those kept.
func (s *sound) mend(k int) {
	steps := (*[reaches]float64)(s.steps[k-along:])
	if math.Abs(steps[along]) > fastest {
		return
	}
	y := &s.way
	y.at, y.reset, y.back = k-past+1, s.resets[k]-1, s.backs[k]
	y.from, y.to = s.places[k], s.places[k+1]+y.back
	y.width, y.next, y.over = 0, 0, s.beyond(k)
	y.e.through(steps)
	over := &y.e
	if s.shape == pulse {
		y.width, y.next = s.widths[k], s.widths[k+1]
		if s.overtakes {
			y.w.through((*[reaches]float64)(s.spans[k-along:]))
			if !y.w.straight || y.w.step != 0 {
				y.q.minus(&y.e, &y.w)
				over = &y.q
			}
		}
	}
	if y.reset < 0 {
		s.pass(y, over, 0, 1, ends{y.from, y.width}, ends{y.to, y.next}, 0)
		return
	}
	t := y.reset
	before := ends{y.from + fixed(y.e.at(t)), y.width}
	if s.overtakes {
		before.width += fixed(y.w.at(t))
	}
	behind := ends{before.place - y.back, before.width}
	s.pass(y, over, 0, t, ends{y.from, y.width}, before, 0)
	s.restart(y, before, behind)
	s.pass(y, over, t, 1, behind, ends{y.to - y.back, y.next}, y.back)
}

// near says whether step k may pass a corner: it does so where it ends in another
// count, or where it turns back beyond either end (by at most a quarter of the
// changes of its step there), or where it is set back.
func (s *sound) near(k int) bool {
	from, to := s.places[k], s.places[k+1]
	a, b := s.counted(from, s.widths[k]), s.counted(to, s.widths[k+1])
	if differ(a, b) != 0 || s.resets[k] != 0 || s.shape == pulse && differ(from, to) != 0 {
		return true
	}
	over := s.beyond(k)
	if s.shape == triangle {
		over *= 2
	}
	return around(a, b, over) || s.shape == pulse && around(from, to, over)
}

// beyond is how far a step may go beyond its ends.
func (s *sound) beyond(k int) int64 {
	return fixed(float64(0.25 * (math.Abs(s.steps[k]-s.steps[k-1]) + math.Abs(s.steps[k+1]-s.steps[k]))))
}

// around says whether a corner lies between two places or near them.
func around(a, b, over int64) bool {
	if b-a < 0 {
		a, b = b, a
	}
	return differ(a, b) != 0 || differ(a-over, b+over) != 0
}

// ends are place and width at one end of a piece of the way.
type ends struct{ place, width int64 }

// pass mends the corners that the phase passes from time t0 to t1, from one end
// to another; over is how it goes past the width, and it has been set back before by
// so much.
func (s *sound) pass(y *way, over *curve, t0, t1 float64, from, to ends, back int64) {
	a, b := s.counted(from.place, from.width), s.counted(to.place, to.width)
	switch s.shape {
	case triangle:
		s.cross(y, &y.e, t0, t1, s.counted(y.from-back, 0), a, b, peak)
	case saw:
		s.cross(y, &y.e, t0, t1, s.counted(y.from-back, 0), a, b, fall)
	case pulse:
		s.cross(y, &y.e, t0, t1, y.from-back, from.place, to.place, leap)
		s.cross(y, over, t0, t1, y.from-back-y.width, a, b, fall)
	}
}

// cross mends the corners that a curve passes; base is its counted place at time 0,
// from and to those at t0 and t1. A curve that may turn back between the samples is
// cut where it does, as it may pass a corner there and back.
func (s *sound) cross(y *way, q *curve, t0, t1 float64, base, from, to int64, c corner) {
	if q.tame {
		if differ(from, to) != 0 {
			s.walk(y, q, t0, t1, base, from, to, c)
		}
		return
	}
	scale, over := 1.0, y.over
	if c == peak {
		scale, over = 2, 2*over
	}
	if !around(from, to, over) {
		return
	}
	first, second := q.turns()
	for _, t := range [2]float64{first, second} {
		if t > t0 && t < t1 {
			at := base + fixed(float64(scale*q.at(t)))
			s.walk(y, q, t0, t, base, from, at, c)
			t0, from = t, at
		}
	}
	s.walk(y, q, t0, t1, base, from, to, c)
}

// walk mends the corners on a part of the path that does not turn back.
func (s *sound) walk(y *way, q *curve, t0, t1 float64, base, from, to int64, c corner) {
	n := more(to, from)
	if n > mostCorners || n < -mostCorners {
		return
	}
	scale := 1.0
	if c == peak {
		scale = 0.5
	}
	count := from >> digits
	for ; n > 0; n-- {
		count++
		s.corner(y, q, count, 1, q.find(float64(scale*cycles(count<<digits-base)), t0, t1), c)
	}
	for ; n < 0; n++ {
		s.corner(y, q, count, -1, q.find(float64(scale*cycles(count<<digits-base)), t0, t1), c)
		count--
	}
}

// corner mends the corner of that count, passed at time t upwards (1) or
// downwards (-1).
func (s *sound) corner(y *way, q *curve, count int64, way, t float64, c corner) {
	switch c {
	case fall:
		s.put(y.at, 0, t, -2*way)
	case leap:
		s.put(y.at, 0, t, 2*way)
	case peak:
		s.bendBy(y, t, float64((float64(16*float64(count&1))-8)*way))
	}
}

// put puts a corner on the list of those to be mended.
func (s *sound) put(at, order int, t, height float64) {
	s.corners[s.listed] = step.Corner{At: at, Order: order, Late: 1 - t, Height: height}
	if s.listed++; s.listed == len(s.corners) {
		s.mendListed()
	}
}

func (s *sound) mendListed() {
	s.solve()
	s.line.Mend(s.table, s.corners[:s.listed])
	s.listed = 0
}

// bendBy mends a change of slope by so much for each cycle, and what comes with it.
func (s *sound) bendBy(y *way, t, change float64) {
	if y.e.straight {
		s.put(y.at, 1, t, float64(change*y.e.step))
		return
	}
	_, slope := y.e.near(t - 0.5)
	second, third, fourth := y.e.derivatives(t - 0.5)
	s.put(y.at, 1, t, float64(change*slope))
	s.put(y.at, 2, t, float64(change*second))
	s.put(y.at, 3, t, float64(change*third))
	s.put(y.at, 4, t, float64(change*fourth))
}

// restart mends the break where the phase is set from before to behind.
func (s *sound) restart(y *way, before, behind ends) {
	t := y.reset
	if s.shape == ahead {
		s.breakSine(y, before.place, behind.place)
		return
	}
	s.put(y.at, 0, t, s.shaped(behind.place, behind.width)-s.shaped(before.place, before.width))
	if s.shape == triangle {
		// It rises 4 a cycle where the count is odd and falls where it is even.
		rising := func(place int64) float64 { return float64(8*(s.counted(place, 0)>>digits&1) - 4) }
		if more := rising(behind.place) - rising(before.place); more != 0 {
			s.bendBy(y, t, more)
		}
	}
}
