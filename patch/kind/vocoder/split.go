package vocoder

import "lampblack/patch/dsp/bound"

// The two pairs of poles of a Butterworth filter of order 5 (Butterworth 1930:
// Q = 1/(2 cos 72 deg) and 1/(2 cos 36 deg)), as 1/Q.
const (
	sharp = 0.6180339887498949
	blunt = 1.618033988749895
)

// pair are the coefficients of a state-variable filter of two poles, solved
// without delay (Simper 2013): see kind filter.
type pair struct {
	own, cross, in2, k float64
}

// newPair returns them for g = tan(pi f/rate) and k = 1/Q.
func newPair(g, k float64) pair {
	gg := float64(g * g)
	a := 2 / (1 + gg + float64(k*g))
	return pair{a - 1, float64(a * g), float64(a * gg), k}
}

// corner are the coefficients of a split.
type corner struct {
	first        float64 // of the all-pass of one pole
	sharp, blunt pair
}

// newCorner returns them for g = tan(pi f/rate).
func newCorner(g float64) corner {
	return corner{(g - 1) / (g + 1), newPair(g, sharp), newPair(g, blunt)}
}

// split cuts a signal in two at its corner, and turns the phase of what was cut
// off before by as much.
type split struct {
	corner
	a1, a2, a3 float64 // states of A: one pole, two poles
	b1, b2     float64 // of B
	c1, c2     float64 // of the second B, for the sum of the bands below
}

// run cuts x: the high side stays in x, the low side times env is added to
// sum, which holds the bands below.
func (s *split) run(x, sum, env []float64) {
	a1, a2, a3, b1, b2, c1, c2 := s.a1, s.a2, s.a3, s.b1, s.b2, s.c1, s.c2
	first, p, q := s.first, s.sharp, s.blunt
	sum, env = sum[:len(x)], env[:len(x)]
	for i, v := range x {
		// A: one pole, then the sharp pair.
		t := float64(first * (v - a1))
		u := a1 + t
		a1 = v + t
		e := u - a3
		n := float64(p.own*a2) + float64(p.cross*e)
		a3 += float64(p.cross*a2) + float64(p.in2*e)
		a := u - float64(p.k*(a2+n))
		a2 = n
		// B: the blunt pair.
		e = v - b2
		n = float64(q.own*b1) + float64(q.cross*e)
		b2 += float64(q.cross*b1) + float64(q.in2*e)
		b := v - float64(q.k*(b1+n))
		b1 = n
		// The same for what lies below.
		w := sum[i]
		e = w - c2
		n = float64(q.own*c1) + float64(q.cross*e)
		c2 += float64(q.cross*c1) + float64(q.in2*e)
		c := w - float64(q.k*(c1+n))
		c1 = n
		low := float64(0.5 * (a + b))
		sum[i] = c + float64(low*env[i])
		x[i] = b - low
	}
	s.a1, s.a2, s.a3, s.b1, s.b2, s.c1, s.c2 = a1, a2, a3, b1, b2, c1, c2
}

// rest forgets the sound, keeps the corner.
func (s *split) rest() { *s = split{corner: s.corner} }

// flush forgets what has vanished.
func (s *split) flush() {
	for _, v := range [...]*float64{&s.a1, &s.a2, &s.a3, &s.b1, &s.b2, &s.c1, &s.c2} {
		*v = bound.Flush(*v)
	}
}
