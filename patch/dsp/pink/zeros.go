package pink

import "math"

// zeros returns the zeros of the filter whose power response is the sum: as
// many as poles. With x = cos w, every member with a positive weight rises from
// minus to plus infinity between its pole and the next, so that there is
// exactly one zero between each two neighbours, one above the highest pole and
// one between -1 and the first of the top ones. Between -1 and 1, where x is the
// cosine of a frequency, the sum is positive and has none.
func (s *sum) zeros() []float64 {
	var zeros []float64
	for i, p := range s.low {
		a := excess(p)
		b := 4 * a
		if i > 0 {
			b = excess(s.low[i-1]) // poles are in falling order of frequency
		} else {
			for s.above(b) < 0 {
				b *= 2
			}
		}
		zeros = append(zeros, onCircle(halve(s.above, a, b)))
	}
	a := 0.0
	for _, q := range s.top { // in rising order of the angle
		b := excess(q)
		zeros = append(zeros, -onCircle(halve(func(v float64) float64 { return -s.below(v) }, a, b)))
		a = b
	}
	return zeros
}

// excess is A - 1, where x = A is the place of a pole p: (1-p)^2 / 2p.
func excess(p float64) float64 { return float64((1-p)*(1-p)) / float64(2*p) }

// onCircle undoes excess: the z below 1 with (1-z)^2 / 2z = u.
func onCircle(u float64) float64 { return 1 + u - math.Sqrt(float64(u*(u+2))) }

// above is the sum at x = 1 + u.
func (s *sum) above(u float64) float64 {
	y := s.one
	for i, p := range s.low {
		a := excess(p)
		y += float64(s.wLow[i]*a) / (a - u)
	}
	for i, q := range s.top {
		y += float64(s.wTop[i]*(2+u)) / float64(q*(excess(q)+2+u))
	}
	return y
}

// below is the sum at x = -1 - v.
func (s *sum) below(v float64) float64 {
	y := s.one
	for i, p := range s.low {
		a := excess(p)
		y += float64(s.wLow[i]*a) / (a + 2 + v)
	}
	for i, q := range s.top {
		y -= float64(s.wTop[i]*v) / float64(q*(excess(q)-v))
	}
	return y
}

// halve finds where f, rising from minus infinity at a to plus infinity at b,
// passes 0.
func halve(f func(float64) float64, a, b float64) float64 {
	for range 100 {
		m := float64((a + b) / 2)
		if f(m) < 0 {
			a = m
		} else {
			b = m
		}
	}
	return float64((a + b) / 2)
}
