package predict

import (
	"math"
	"math/cmplx"
)

// branch is a noise on one of its ways to the socket: at frequency f (from minus
// to plus half the rate) it is gain(f) times what its source has at f - shift.
type branch struct {
	source  int // number in walk.noises
	shift   float64
	turn    int64 // as line.turn
	gain    func(hz float64) complex128
	density func(hz float64) float64 // of the source: power per Hz, one-sided, at hz >= 0
}

// both is a response at frequencies on both sides of 0 Hz.
func both(h func(float64) complex128, hz float64) complex128 {
	if hz < 0 {
		return cmplx.Conj(h(-hz))
	}
	return h(hz)
}

func (b branch) through(h func(hz float64) complex128) branch {
	g := b.gain
	b.gain = func(hz float64) complex128 { return g(hz) * both(h, hz) }
	return b
}

// shifted returns the noise times a line: moved up and down by its frequency.
func (b branch) shifted(l line, rate float64) []branch {
	g := b.gain
	if l.hz < same && l.turn == 0 {
		b.gain = func(hz float64) complex128 { return g(hz) * complex(real(l.a), 0) }
		return []branch{b}
	}
	up, down := b, b
	up.shift, up.turn = b.shift+l.hz, b.turn+l.turn
	down.shift, down.turn = b.shift-l.hz, b.turn-l.turn
	up.gain = func(hz float64) complex128 { return l.a / 2 * g(wrap(hz-l.hz, rate)) }
	down.gain = func(hz float64) complex128 { return cmplx.Conj(l.a) / 2 * g(wrap(hz+l.hz, rate)) }
	return []branch{up, down}
}

// wrap brings a frequency into minus to plus half the rate.
func wrap(hz, rate float64) float64 { return hz - rate*math.Round(hz/rate) }

// gather adds up ways of one noise that come in step.
func gather(all []branch) []branch {
	var out []branch
next:
	for _, b := range all {
		for i, o := range out {
			if o.source == b.source && o.turn == b.turn && math.Abs(o.shift-b.shift) < same {
				f, g := o.gain, b.gain
				out[i].gain = func(hz float64) complex128 { return f(hz) + g(hz) }
				continue next
			}
		}
		out = append(out, b)
	}
	return out
}

// density returns the power per Hz of all noise at hz, averaged over time.
func density(hiss []branch, hz, rate float64) float64 {
	sum := 0.0
	for _, b := range hiss {
		g := cmplx.Abs(b.gain(hz))
		sum += g * g * b.density(math.Abs(wrap(hz-b.shift, rate)))
	}
	return sum
}

// Third is the noise in one third of an octave.
type Third struct {
	Hz    float64 // exact mid-band, 1000 x 10^(k/10) Hz (IEC 61260-1:2014)
	Level float64 // RMS in dBFS, an RMS of 1 being 0 dBFS
}

// thirds returns the levels of all mid-bands from 25 Hz whose upper edge lies
// below half the rate.
func thirds(f func(hz float64) float64, rate float64) []Third {
	var out []Third
	for k := -16; ; k++ {
		mid := 1000 * math.Pow(10, float64(k)/10)
		low, high := mid*math.Pow(10, -0.05), mid*math.Pow(10, 0.05)
		if high > rate/2 {
			return out
		}
		out = append(out, Third{mid, 10 * math.Log10(power(f, low, high))})
	}
}

// power integrates a density from one frequency to another, evenly in the
// logarithm, by Simpson's rule: stretches are halved until two halves say the same
// as the whole.
func power(f func(hz float64) float64, low, high float64) float64 {
	g := func(octave float64) float64 { hz := math.Exp2(octave); return hz * math.Ln2 * f(hz) }
	const parts = 8 // looked at in any case, so that no peak is passed over
	a, step, sum := math.Log2(low), math.Log2(high/low)/parts, 0.0
	for i := range parts {
		x := a + float64(i)*step
		sum += halved(g, x, step, g(x), g(x+step/2), g(x+step), 12)
	}
	return sum
}

func halved(g func(float64) float64, x, width, left, middle, right float64, depth int) float64 {
	l, r := g(x+width/4), g(x+width*3/4)
	whole := width / 6 * (left + 4*middle + right)
	parts := width / 12 * (left + 4*l + 2*middle + 4*r + right)
	if depth == 0 || math.Abs(parts-whole) <= 1e-4*math.Abs(parts) {
		return parts
	}
	return halved(g, x, width/2, left, l, middle, depth-1) + halved(g, x+width/2, width/2, middle, r, right, depth-1)
}
