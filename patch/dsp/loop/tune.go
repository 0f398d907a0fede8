package loop

import (
	"math"

	"lampblack/patch/dsp/approx"
	"lampblack/patch/dsp/logarithm"
)

// Tuning is what a loop is to sound like.
type Tuning struct {
	// Hz is how many rounds there are in a second, at most Highest times the
	// rate. The loop rings there and at the whole multiples; if Odd, at Hz/2
	// and the odd multiples of that.
	Hz  float64
	Odd bool // every round turns the sign

	// T60 is the time in seconds in which the lowest resonance falls by 60 dB.
	// If it is 0, Gain is that resonance's gain in one round, 0 to 1.
	T60, Gain float64

	// Damping is how many times as fast as the lowest resonance the highest
	// die, at least 1. Where it grows follows from it: about as the square of
	// the frequency, from a few harmonics on.
	Damping float64
}

// thousandth is log2(1000): 60 dB in octaves of amplitude.
const thousandth = 9.965784284662087

// The gains of a round that are let in, in octaves: from so close to 1 that it
// would ring for hours down to nothing.
const (
	nearest  = -1e-7
	farthest = -60
)

// Tune sets what the next Segment samples move to. It is to be called when Left
// is 0.
func (l *Loop) Tune(t Tuning) {
	l.left = Segment
	l.loss = l.target
	l.step, l.fading = losses{}, false
	if t == l.tuned && l.begun {
		return
	}
	l.tuned = t
	next, to := l.solve(t)
	l.target = next
	if !l.begun {
		l.begun, l.loss, l.now = true, next, to
		return
	}
	l.step = losses{
		float64((next.zero - l.loss.zero) * (1.0 / Segment)),
		float64((next.high - l.loss.high) * (1.0 / Segment)),
		float64((next.corner - l.loss.corner) * (1.0 / Segment)),
	}
	if to.delay != l.now.delay || to.k != l.now.k {
		l.before, l.fading = l.now, true
		l.now = to
		l.now.warm(l.line, l.at, l.mask)
	}
}

// Input returns what an input may be multiplied with: peak keeps a steady tone
// on the lowest resonance at its level, noise keeps the power of white noise
// where there is no damping.
func (t Tuning) Input() (peak, noise float64) {
	g := t.gain()
	return 1 - g, math.Sqrt(1 - float64(g*g))
}

func (t Tuning) gain() float64 { return approx.Exp2(t.octaves()) }

// octaves is the gain of a round at the lowest resonance as a logarithm, if a
// round took 1/Hz for every part of the sound: T60 = ln(1000)/(Hz * -ln g).
func (t Tuning) octaves() float64 {
	o := 0.0
	if t.T60 > 0 {
		o = -thousandth / float64(t.Hz*t.T60)
	} else {
		o = logarithm.Log2(t.Gain)
	}
	return min(max(o, farthest), nearest)
}

// solve returns the losses and the reader that sound as t says.
//
// The lowest resonance is a pole at e^(-sigma + j theta), not on the unit
// circle, and what a whole round does to a sound that dies at that rate must be
// nothing. To first order in sigma the phase of a filter there is that on the
// circle, moved by the slope of its gain, and its gain is that on the circle
// times e^(sigma x group delay) (Cauchy and Riemann's equations).
func (l *Loop) solve(t Tuning) (losses, reader) {
	round := max(1/float64(t.Hz*l.inverse), Shortest)
	turn := 1 / round
	if t.Odd {
		turn /= 2
	}
	octaves := t.octaves()
	s := shape(octaves, t.Damping)
	tan := approx.Tan(turn)
	slope := float64(s.u*(1+float64(tan*tan))) / float64(2*tan) // of u by theta
	e := min(float64(-octaves*math.Ln2)/round*slope, 0.5)
	a := s.u / (1 - e)
	b := float64(s.high*s.u) / (s.zero - float64(s.high*e))
	to := aim(round-angle((a-b)/(1+float64(a*b)))/turn, turn)
	if t.T60 > 0 {
		late := float64(to.delay) + to.group(turn) + float64(slope*s.bend())
		more := approx.Exp2(float64(octaves * (late/round - 1)))
		more = min(more, (1+s.zero)/float64(2*s.zero))
		s.zero, s.high = float64(s.zero*more), float64(s.high*more)
	}
	corner := tan / s.u
	if t.Odd {
		s.zero, s.high = -s.zero, -s.high
	}
	return losses{s.zero, s.high, corner / (1 + corner)}, to
}

// shelf is a shelf as seen from the lowest resonance: u is that over its corner.
type shelf struct{ zero, high, u float64 }

// shape returns the shelf whose gain is 2^octaves at the lowest resonance.
//
// Let g be that gain and h = g^damping that at the top. The gain z at 0 Hz
// follows from
//
//	g^2 = (z^2 + h^2 u^2)/(1 + u^2)
//
// and must stay below 1, or the loop would grow at 0 Hz. With
//
//	u^2 = (1 - g^2)/(2 (g^2 - h^2))
//
// z^2 is the mean of 1 and g^2: both g and h are kept, however long the decay.
func shape(octaves, damping float64) shelf {
	g := approx.Exp2(octaves)
	h := approx.Exp2(float64(octaves * max(damping, 1)))
	gg, hh := float64(g*g), float64(h*h)
	uu := 1.0
	if d := 2 * (gg - hh); 1-gg < d {
		uu = (1 - gg) / d
	}
	return shelf{math.Sqrt(gg + float64(uu*(gg-hh))), h, math.Sqrt(uu)}
}

// bend returns how much the shelf turns the phase back for a small rise of u.
func (s shelf) bend() float64 {
	k := s.high / s.zero
	ku := float64(k * s.u)
	return 1/(1+float64(s.u*s.u)) - k/(1+float64(ku*ku))
}

// group returns the all-pass's group delay in samples.
func (r *reader) group(turn float64) float64 {
	kk := float64(r.k * r.k)
	cos := approx.Sine(turn + 0.25)
	return (1 - kk) / (1 + float64(float64(2*r.k)*cos) + kk)
}

// sine is sin(2 pi p) for p of -1 to 1 cycles.
func sine(p float64) float64 {
	if p < 0 {
		return -approx.Sine(-p)
	}
	return approx.Sine(p)
}

// angle returns the angle whose tangent is x, in cycles, for x of 0 to 2. Its
// error is below 1e-12 up to 1 and 1e-9 up to 2: the angle is halved twice (the tangent of half an angle
// is x/(1 + sqrt(1 + x^2))) and then summed by its power series.
func angle(x float64) float64 {
	x /= 1 + math.Sqrt(1+float64(x*x))
	x /= 1 + math.Sqrt(1+float64(x*x)) // at most 0.199 of an x up to 1
	u := float64(x * x)
	y := 1.0 / 15
	y = 1.0/13 - float64(y*u)
	y = 1.0/11 - float64(y*u)
	y = 1.0/9 - float64(y*u)
	y = 1.0/7 - float64(y*u)
	y = 1.0/5 - float64(y*u)
	y = 1.0/3 - float64(y*u)
	y = 1 - float64(y*u)
	return float64(float64(x*y) * (2 / math.Pi))
}
