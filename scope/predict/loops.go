package predict

import (
	"math"
	"math/cmplx"

	"gonum.org/v1/gonum/dsp/fourier"
)

// loops is a module made of state-variable loops while its controls move: direct of
// what it hears, and what each loop gives times a weight, at every place of a cycle.
type loops struct {
	direct []float64
	loop   []loop
}

// loop is two trapezoidal integrators of gain g with the damping k. They hear drive
// times the sound; taken is what is heard of the first (0) or the second (1), the
// mean of its state before and after a sample.
//
// Source: Simper, Solving the continuous SVF equations using trapezoidal
// integration, 2011; the equations stand in patch/kind/filter, from which the moving
// states are taken: those of low stay as they are, those of band stay as loud as
// they ring, so their drive is k.
type loop struct {
	g, k, drive, weight []float64
	taken               int
}

// stateVariableLoops are those of the kind filter. It gives nil where they can't be
// said: a width that moves beyond Q 0.5 takes energy away as it falls.
func stateVariableLoops(cycle []values, out int, rate float64) *loops {
	n := len(cycle)
	l := &loops{direct: make([]float64, n)}
	g, k, wide, ones := make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	level, bell, minus := make([]float64, n), make([]float64, n), make([]float64, n)
	for i, c := range cycle {
		g[i] = math.Tan(math.Pi * math.Min(c.v[0]/rate, highestCorner))
		k[i] = damping(c.v[0], c.v[1], c.scale[1], g[i], rate)
		wide[i] = k[i] / math.Sqrt(c.v[3])
		level[i], bell[i], ones[i], minus[i] = c.v[2], c.v[3]-1, 1, -1
	}
	if out == 4 {
		copy(k, wide)
	}
	for i := range k {
		if k[i] != k[0] && math.Max(k[i], k[0]) > 2 {
			return nil
		}
	}
	low := func(weight []float64) loop { return loop{g, k, ones, weight, 1} }
	band := func(weight []float64) loop { return loop{g, k, k, weight, 0} }
	if out > 1 {
		copy(l.direct, ones)
	}
	switch out {
	case 0:
		l.loop = []loop{low(ones)}
	case 1:
		l.loop = []loop{band(level)}
	case 2:
		l.loop = []loop{band(minus), low(minus)}
	case 3:
		l.loop = []loop{band(minus)}
	default:
		l.loop = []loop{band(bell)}
	}
	return l
}

// gains returns what the module makes of e^(j w n) at every place of its cycle, w
// and turn, by how much the cycle goes on from sample to sample, in radians. What
// it heard before is in it: nothing is taken to be slow. ok is false if it moves too
// fast, beside how long it rings, to be worked out.
func (l *loops) gains(w, turn float64) (x []complex128, ok bool) {
	x = make([]complex128, len(l.direct))
	for i, d := range l.direct {
		x[i] = complex(d, 0)
	}
	for k := range l.loop {
		s, ok := l.loop[k].states(w, turn)
		if !ok {
			return nil, false
		}
		for i, v := range s {
			x[i] += v * complex(l.loop[k].weight[i], 0)
		}
	}
	return x, true
}

// states works out one loop. Its states are p e^(j w n), p going round with the
// cycle: z S p = A p + B, with z = e^(j w) and S one sample on. With R = 1/(z - A)
// that is p + R z (S - 1) p = R B, where the second term is small while p moves
// little in the time in which the loop rings. So few steps of GMRES solve it.
func (l *loop) states(w, turn float64) ([]complex128, bool) {
	n := len(l.g)
	z := cmplx.Exp(complex(0, w))
	rows := make([][8]complex128, n) // R, and A
	b := make([]complex128, 2*n)
	for i, g := range l.g {
		a := 2 / (1 + g*(g+l.k[i]))
		own, cross, in2 := a-1, a*g, a*g*g
		p, q, r, s := z-complex(own, 0), complex(cross, 0), complex(-cross, 0), z-complex(1-in2, 0)
		det := p*s - q*r
		rows[i] = [8]complex128{s / det, -q / det, -r / det, p / det, complex(own, 0), complex(-cross, 0), complex(cross, 0), complex(1-in2, 0)}
		b1, b2 := complex(cross*l.drive[i], 0), complex(in2*l.drive[i], 0)
		b[i], b[n+i] = rows[i][0]*b1+rows[i][1]*b2, rows[i][2]*b1+rows[i][3]*b2
	}
	on := make([]complex128, n) // S - 1, times z, of each part of a cycle
	for k := range on {
		m := k
		if k >= n/2 {
			m -= n
		}
		sin, cos := math.Sincos(float64(m) * turn / 2)
		on[k] = z * complex(-2*sin*sin, 2*sin*cos) / complex(float64(n), 0)
	}
	fft, c := fourier.NewCmplxFFT(n), make([]complex128, n)
	moved := make([]complex128, 2*n)
	move := func(p []complex128) {
		for _, half := range []int{0, n} {
			fft.Coefficients(c, p[half:half+n])
			for k := range c {
				c[k] *= on[k]
			}
			fft.Sequence(moved[half:half+n], c)
		}
	}
	p, ok := gmres(b, func(dst, p []complex128) {
		move(p)
		for i := range n {
			u, v := moved[i], moved[n+i]
			dst[i] = p[i] + rows[i][0]*u + rows[i][1]*v
			dst[n+i] = p[n+i] + rows[i][2]*u + rows[i][3]*v
		}
	})
	if !ok {
		return nil, false
	}
	out := make([]complex128, n)
	for i := range out {
		r, drive := rows[i], complex(l.drive[i], 0)
		if l.taken == 0 {
			out[i] = 0.5 * (p[i] + r[4]*p[i] + r[5]*p[n+i] + r[6]*drive)
		} else {
			out[i] = 0.5 * (p[n+i] + r[6]*p[i] + r[7]*p[n+i] + (1-r[7])*drive)
		}
	}
	return out, true
}
