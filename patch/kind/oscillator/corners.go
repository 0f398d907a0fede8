package oscillator

import (
	"math"

	"lampblack/patch/dsp/approx"
	"lampblack/patch/dsp/step"
	"lampblack/patch/dsp/wave"
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

// passed counts the corners that the phase has passed since 0: of a saw or a
// triangle in the first number, of a pulse the starts of cycles there and its
// falls in the second. Every corner is mended between two counts, and the shape
// is computed from them: so rounding can't lose one or mend it twice.
type passed struct{ first, second float64 }

func (s *sound) count(e, width float64) passed {
	switch s.shape {
	case triangle:
		return passed{math.Floor(float64(2*e) - 0.5), 0}
	case saw:
		return passed{math.Floor(e - 0.5), 0}
	case pulse:
		return passed{math.Floor(e), math.Floor(e - width)}
	}
	return passed{}
}

// place is what count and shaped are at phase e, and the count with some whole
// cycles more.
func (s *sound) place(e, width, turns float64) (here, to passed, y float64) {
	switch s.shape {
	case triangle:
		here.first = math.Floor(float64(2*e) - 0.5)
		to.first = here.first + float64(2*turns)
		y = wave.Triangle(turn(e))
	case saw:
		here.first = math.Floor(e - 0.5)
		to.first = here.first + turns
		y = float64(2*(e-here.first)) - 2
	case pulse:
		here.first, here.second = math.Floor(e), math.Floor(e-width)
		to.first, to.second = here.first+turns, here.second+turns
		y = float64(2*(here.first-here.second)) - 1
	default:
		y = approx.Sine(turn(e))
	}
	return here, to, y
}

// shaped is the plain shape at phase e, where so many corners are passed.
func (s *sound) shaped(e float64, c passed) float64 {
	switch s.shape {
	case triangle:
		return wave.Triangle(turn(e))
	case saw:
		return float64(2*(e-c.first)) - 2
	case pulse:
		return float64(2*(c.first-c.second)) - 1
	}
	return approx.Sine(turn(e))
}

// mend mends the corners of a stretch, along the curve of the steps kept.
func (s *sound) mend(st *stretch) {
	steps := s.steps.last()
	if math.Abs(steps[along]) > fastest {
		return
	}
	var e, width curve
	e.heard(st.phase, steps)
	if s.shape == pulse {
		width.heard(st.width, s.spans.last())
	}
	if st.reset < 0 {
		s.pass(&e, &width, 0, 1, st.from, st.to)
		return
	}
	var after curve
	after.less(&e, 1, st.back)
	t := st.reset
	w, before, behind := width.at(t), e.at(t), after.at(t)
	last, first := s.count(before, w), s.count(behind, w)
	s.pass(&e, &width, 0, t, st.from, last)
	s.restart(&e, t, before, behind, last, first)
	s.pass(&after, &width, t, 1, first, st.to)
}

// pass mends the corners that the phase e passes from time t0 to t1, from one
// count to another.
func (s *sound) pass(e, width *curve, t0, t1 float64, from, to passed) {
	var q curve
	switch s.shape {
	case triangle:
		q.less(e, 2, 0.5)
		s.cross(&q, t0, t1, from.first, to.first, peak)
	case saw:
		q.less(e, 1, 0.5)
		s.cross(&q, t0, t1, from.first, to.first, fall)
	case pulse:
		q.minus(e, width)
		s.cross(e, t0, t1, from.first, to.first, leap)
		s.cross(&q, t0, t1, from.second, to.second, fall)
	}
}

// cross mends the corners that lie on whole numbers of a path. A path that may
// turn back between the samples is cut where it does, as it may pass a corner
// there and back.
func (s *sound) cross(q *curve, t0, t1, from, to float64, c corner) {
	if q.tame {
		if from != to {
			s.way(q, t0, t1, from, to, c)
		}
		return
	}
	first, second := q.turns()
	for _, t := range [2]float64{first, second} {
		if t > t0 && t < t1 {
			at := math.Floor(q.at(t))
			s.way(q, t0, t, from, at, c)
			t0, from = t, at
		}
	}
	s.way(q, t0, t1, from, to, c)
}

// way mends the corners on a part of the path that does not turn back.
func (s *sound) way(q *curve, t0, t1, from, to float64, c corner) {
	if math.Abs(to-from) > mostCorners {
		return
	}
	for ; from < to; from++ {
		s.corner(q, from+1, 1, q.find(from+1, t0, t1), c)
	}
	for ; from > to; from-- {
		s.corner(q, from, -1, q.find(from, t0, t1), c)
	}
}

// corner mends the corner at place x, passed at time t upwards (1) or
// downwards (-1).
func (s *sound) corner(q *curve, x, way, t float64, c corner) {
	switch c {
	case fall:
		s.table.Jump(s.line.Past(step.Late), 1-t, -2*way)
	case leap:
		s.table.Jump(s.line.Past(step.Late), 1-t, 2*way)
	case peak:
		if x == float64(2*math.Floor(x/2)) {
			way = -way
		}
		s.bendBy(q, t, 4*way)
	}
}

// bendBy mends a change of slope by so much for each cycle of the curve, and what
// comes with it.
func (s *sound) bendBy(q *curve, t, change float64) {
	d := [step.Orders]float64{0, float64(change * q.slope(t))}
	n := 2
	if q.c[2] != 0 || q.c[3] != 0 {
		for n = 2; n < len(d); n++ {
			d[n] = float64(change * q.derivative(n, t))
		}
	}
	s.table.Break(s.line.Past(step.Late), 1-t, d[:n])
}

// restart mends the break at time t where the phase, moving along e, is set from
// before to behind.
func (s *sound) restart(e *curve, t, before, behind float64, from, to passed) {
	if s.shape == ahead {
		s.breakSine(e, t, before, behind)
		return
	}
	s.table.Jump(s.line.Past(step.Late), 1-t, s.shaped(behind, to)-s.shaped(before, from))
	if s.shape == triangle {
		// It rises 4 a cycle where the count is odd and falls where it is even.
		rising := func(count float64) float64 { return float64(8*(count-float64(2*math.Floor(count/2)))) - 4 }
		if more := rising(to.first) - rising(from.first); more != 0 {
			s.bendBy(e, t, more)
		}
	}
}

// breakSine mends the break of a sine whose phase is set from before to behind.
// From there on it is s + c more in cosine and sine of the frequency at the break;
// what a moving frequency changes in its derivatives is mended besides. With the
// angle a + w t + b t^2/2, sine and cosine have power series s, c with
//
//	(k+1) s[k+1] = w c[k] + b c[k-1],  (k+1) c[k+1] = -w s[k] - b s[k-1]
//
// (from their differential equations), and so has the difference of two of them.
func (s *sound) breakSine(e *curve, t, before, behind float64) {
	w := float64(2 * math.Pi * e.slope(t))
	w = min(max(w, -math.Pi), math.Pi)
	sin := approx.Sine(turn(behind)) - approx.Sine(turn(before))
	cos := approx.Sine(turn(behind+0.25)) - approx.Sine(turn(before+0.25))
	s.sines.Break(s.line.Past(step.Late), 1-t, w, sin, cos)
	if bend := e.derivative(2, t); bend != 0 && math.Abs(bend) < 0.1 { // beyond, the series does not converge
		still, moving := derivatives(w, 0, sin, cos), derivatives(w, float64(2*math.Pi*bend), sin, cos)
		for k := range moving {
			moving[k] -= still[k]
		}
		s.table.Break(s.line.Past(step.Late), 1-t, moving[:])
	}
}

// derivatives are those of the difference of two sines, at the break.
func derivatives(w, b, s, c float64) [step.Orders]float64 {
	d := [step.Orders]float64{s}
	var s0, c0 float64 // one order below
	factorial := 1.0
	for k := 1; k < len(d); k++ {
		n := float64(k)
		s, s0, c, c0 = (float64(w*c)+float64(b*c0))/n, s, -(float64(w*s)+float64(b*s0))/n, c
		factorial = float64(factorial * n)
		d[k] = float64(s * factorial)
	}
	return d
}
