package predict

import (
	"math"
	"math/cmplx"
)

// march is gains for one line, sample by sample through so many turns of the cycle
// as are a whole number of samples long, and again until they end where they began.
// It takes longer, but holds however fast a filter moves beside how long it rings.
func (l *loops) march(w float64, turns int) ([]complex128, bool) {
	x := make([]complex128, len(l.direct))
	for i, d := range l.direct {
		x[i] = complex(d, 0)
	}
	for k := range l.loop {
		if !l.loop[k].march(x, w, turns) {
			return nil, false
		}
	}
	return x, true
}

// turnsOf returns after how many turns, of rate/hz samples each, a movement comes
// back to the same place of a sample, as nearly as can be, and after how many samples.
func turnsOf(hz, rate float64) (turns, samples int) {
	const (
		longest  = 500_000 // one turn
		together = 60_000
	)
	once, nearest := rate/hz, math.Inf(1)
	for t := 1; t == 1 || t <= 32 && float64(t)*once < together; t++ {
		n := math.Round(float64(t) * once)
		if off := math.Abs(float64(t)*once-n) / n; off < nearest*(1-1e-9) && n >= 8 && n <= longest {
			nearest, turns, samples = off, t, int(n)
		}
	}
	for a, b := turns, samples; b > 0; a, b = b, a%b {
		if a%b == 0 {
			return turns / b, samples / b
		}
	}
	return turns, samples
}

// mostCycles is after how many a loop must have settled.
const mostCycles = 40

// march adds what the loop gives, times its weight, to x.
func (l *loop) march(x []complex128, w float64, turns int) bool {
	back := cmplx.Exp(complex(0, -w))
	s1, s2 := complex(0, 0), complex(0, 0)
	heard := make([]complex128, len(x))
	for range mostCycles {
		t1, t2 := s1, s2
		most := 0.0
		for sample := range l.g {
			i := sample * turns % len(l.g)
			g := l.g[i]
			a := 2 / (1 + g*(g+l.k[i]))
			own, cross, in2 := a-1, a*g, a*g*g
			r1, i1, r2, i2 := real(s1), imag(s1), real(s2), imag(s2)
			n1 := complex(own*r1-cross*r2+cross*l.drive[i], own*i1-cross*i2)
			n2 := complex(cross*r1+(1-in2)*r2+in2*l.drive[i], cross*i1+(1-in2)*i2)
			if l.taken == 0 {
				heard[i] = s1 + n1
			} else {
				heard[i] = s2 + n2
			}
			s1, s2 = n1*back, n2*back
			most = math.Max(most, math.Abs(real(s1))+math.Abs(real(s2)))
		}
		if cmplx.Abs(s1-t1)+cmplx.Abs(s2-t2) <= solved*most {
			for i, v := range heard {
				x[i] += v * complex(0.5*l.weight[i], 0)
			}
			return true
		}
	}
	return false
}

// resampled returns x, one cycle of something smooth, at n places, by Lagrange's
// polynomial through the six nearest points. Source: Abramowitz and Stegun 25.2.1.
func resampled(x []complex128, n int) []complex128 {
	out := make([]complex128, n)
	for i := range out {
		at := float64(i) * float64(len(x)) / float64(n)
		whole := int(at)
		for a := -2; a <= 3; a++ {
			weight := 1.0
			for b := -2; b <= 3; b++ {
				if b != a {
					weight *= (at - float64(whole+b)) / float64(a-b)
				}
			}
			out[i] += complex(weight, 0) * x[(whole+a+len(x))%len(x)]
		}
	}
	return out
}
