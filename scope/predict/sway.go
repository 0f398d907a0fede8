package predict

import (
	"math"
	"math/cmplx"
	"slices"

	"gonum.org/v1/gonum/dsp/fourier"
)

// At how many places of its cycle a moving filter is looked at: so many at first,
// and more until its highest parts are faint.
const (
	steps     = 128
	mostSteps = 4096
	tooHigh   = 1e-6 // of the strongest part: what may stand in the highest parts
)

// sway is controls that move, over one cycle of what moves them.
type sway struct {
	family family
	moved  []signal
	mean   values
	cycles map[int][]values
}

// sways finds the cycle in which controls move.
func (n *node) sways(moved []signal, mean values, swing []line) (*sway, string) {
	if slices.ContainsFunc(swing, func(l line) bool { return l.hz < same }) {
		return nil, "is moved by tones whose phases nothing tells"
	}
	// All controls move in one cycle, or there is no saying.
	g := n.common(tidy(slices.Clone(swing), n.rate))
	if len(g) != 1 {
		return nil, "is moved by several tones that have no common cycle"
	}
	s := &sway{family: g[0], moved: moved, mean: mean, cycles: map[int][]values{}}
	if s.family.highest() > steps/8 {
		return nil, "is moved by a tone with too many harmonics"
	}
	return s, ""
}

// cycle returns what the controls stand at, at n places of the cycle.
func (s *sway) cycle(n int) []values {
	if at, ok := s.cycles[n]; ok {
		return at
	}
	at := make([]values, n)
	for i := range at {
		t := 2 * math.Pi * float64(i) / float64(n)
		v := values{slices.Clone(s.mean.v), s.mean.scale, s.mean.rows}
		for k := range s.moved {
			for _, l := range s.moved[k].swing() {
				v.v[k] += real(l.a * cmplx.Exp(complex(0, t*math.Round(l.hz/s.family.hz))))
			}
		}
		at[i] = v
	}
	s.cycles[n] = at
	return at
}

// swayed is a filter whose controls move.
type swayed struct {
	*sway
	gain  func(c values, hz float64) complex128 // while they stand
	loops func(cycle []values) *loops           // nil: not known
	exact bool                                  // gain is all there is, however they move
	known map[int]*loops
}

// parts returns what the filter makes of a line at hz, as parts of the cycle from
// -len/2 on, and by how much each of them may be off; nil: by nothing that counts.
// Ok is false where that can't be said.
func (m *swayed) parts(hz, rate float64) (c, off []complex128, ok bool) {
	for n := steps; n <= mostSteps; n *= 2 {
		x, e, ok := m.round(n, hz, rate)
		if !ok {
			break
		}
		if c = series(x); faintAbove(c) {
			if e != nil {
				off = series(e)
			}
			return c, off, true
		}
	}
	turns, samples := turnsOf(m.family.hz, rate)
	if m.loops == nil || turns == 0 {
		return nil, nil, false
	}
	if l := m.loopsAt(samples); l != nil {
		if x, ok := l.march(2*math.Pi*hz/rate, turns); ok {
			c = series(resampled(x, mostSteps))
			return c, nil, faintAbove(c)
		}
	}
	return nil, nil, false
}

// atRest is parts as if the filter had the response of each moment.
func (m *swayed) atRest(hz float64) []complex128 {
	x := make([]complex128, steps)
	for i, v := range m.cycle(steps) {
		x[i] = m.gain(v, hz)
	}
	return series(x)
}

// faintAbove reports whether the highest parts of a series are faint, beside the
// strongest or beside what goes in.
func faintAbove(c []complex128) bool {
	most, top, n := 1e-3, 0.0, len(c)
	for k, a := range c {
		most = math.Max(most, cmplx.Abs(a))
		if k < n/8 || k >= n*7/8 {
			top = math.Max(top, cmplx.Abs(a))
		}
	}
	return top <= tooHigh*most
}

// series is the Fourier series of one cycle, from the lowest part to the highest.
func series(x []complex128) []complex128 {
	c := fourier.NewCmplxFFT(len(x)).Coefficients(nil, x)
	for k := range c {
		c[k] /= complex(float64(len(c)), 0)
	}
	return append(slices.Clone(c[len(c)/2:]), c[:len(c)/2]...)
}

// round returns what the filter makes of a line at hz at n places of its cycle.
func (m *swayed) round(n int, hz, rate float64) (x, off []complex128, ok bool) {
	if m.loops != nil {
		l := m.loopsAt(n)
		if l != nil {
			x, ok := l.gains(2*math.Pi*hz/rate, 2*math.Pi*m.family.hz/rate)
			return x, nil, ok
		}
	}
	x = make([]complex128, n)
	for i, v := range m.cycle(n) {
		x[i] = m.gain(v, hz)
	}
	if m.exact {
		return x, nil, true
	}
	return x, m.forgotten(x, hz), true
}

// loopsAt returns the loops at n places of the cycle.
func (m *swayed) loopsAt(n int) *loops {
	l, ok := m.known[n]
	if !ok {
		l = m.loops(m.cycle(n))
		if m.known == nil {
			m.known = map[int]*loops{}
		}
		m.known[n] = l
	}
	return l
}

// forgotten is about how much the response of the moment leaves out: its slope over
// time, times how late the filter is there. For a filter of one pole that is the
// next term of the series in the rate of the movement, d/dt H x (d/dw H)/H; others
// differ by how they are built, so it is taken three times.
func (m *swayed) forgotten(x []complex128, hz float64) []complex128 {
	n := len(x)
	off, most := make([]complex128, n), 0.0
	for _, v := range x {
		most = math.Max(most, cmplx.Abs(v))
	}
	const apart = 0.25 // Hz
	low, high := math.Max(hz-apart, 0), hz+apart
	for i, v := range m.cycle(n) {
		slope := (x[(i+1)%n] - x[(i+n-1)%n]) * complex(float64(n)*m.family.hz/2, 0) // in a second
		late := (m.gain(v, high) - m.gain(v, low)) / complex((high-low)*2*math.Pi, 0)
		size := math.Max(cmplx.Abs(x[i]), 1e-3*most)
		off[i] = 3 * slope * late * cmplx.Conj(x[i]) / complex(size*size, 0)
	}
	return off
}
