package predict

import (
	"fmt"
	"math"
	"math/cmplx"
)

// delay is the kind of that name. Controls: time, feedback, low cut, high cut,
// ceiling, mix, change; outputs out and echo. With the tone C of the repeats the
// echo is C z/(1 - feedback C z), z a delay of the time. Source: theory of combs.
func delay(c values, _, out int, hz, rate float64) complex128 {
	samples := math.Max(c.v[0]*rate, 1)
	once := highCut(hz, c.v[3], rate) * lowCut(hz, c.v[2], rate) * cmplx.Exp(complex(0, -2*math.Pi*hz/rate*samples))
	echo := once / (1 - complex(c.v[1], 0)*once)
	if out == 1 {
		return echo
	}
	mix := c.v[5]
	return complex(math.Min(2*(1-mix), 1), 0) + complex(math.Min(2*mix, 1), 0)*echo
}

func delayRefuses(c values, peak []float64, rate float64) string {
	g := math.Abs(c.v[1])
	if g >= 1 {
		return "feeds itself at 100 % or more: what is on the tape never dies away"
	}
	if held := peak[0] / (1 - g); held > 0.5*c.v[4] {
		return fmt.Sprintf("may fill its tape: up to %s meets there, and from half of the ceiling on, %s, it is bent", number(held), number(0.5*c.v[4]))
	}
	if samples := c.v[0] * rate; samples < 16 && math.Abs(samples-math.Round(samples)) > 1e-6 {
		return "delays by less than 16 samples, and not by a whole number of them: what lies between is not read exactly"
	}
	return ""
}

// feedsNothing reports whether a delay hears nothing of itself: then where its head
// stands now is all that matters.
func feedsNothing(c values) bool { return c.v[1] == 0 }

// delayReads is up to how many Hz a delay is exact: what lies between two samples is
// read by a windowed sinc, which is flat up to 0.375 of the rate.
func delayReads(c values, rate float64) float64 {
	if samples := c.v[0] * rate; math.Abs(samples-math.Round(samples)) > 1e-6 {
		return 0.375 * rate
	}
	return rate / 2
}

// resonator is the kind of that name. Controls: frequency, decay (s or %),
// harmonics, damping, kept, mix. Source: Jaffe and Smith, Computer Music Journal
// 7(2), 1983; the tuning is that of package loop.
func resonator(c values, _, _ int, hz, rate float64) complex128 {
	l := loopOf(c, rate)
	z := cmplx.Exp(complex(0, -2*math.Pi*hz/rate))
	low := lowPass(hz, l.corner, rate)
	k := complex(l.k, 0)
	round := cmplx.Pow(z, complex(float64(l.delay), 0)) * (k + z) / (1 + k*z)
	round *= complex(l.high, 0) + complex(l.zero-l.high, 0)*low
	ring := 1 / (1 - round)
	mix := complex(c.v[5], 0)
	return 1 - mix + mix*complex(l.input, 0)*ring
}

// rounds is a tuned loop: a delay of whole samples, an all-pass for what is left
// of one, and losses, a shelf of the gains zero at 0 Hz and high at the top.
type rounds struct {
	delay             int
	k                 float64
	zero, high, input float64
	corner            float64 // Hz
}

// loopOf tunes the loop of a resonator.
func loopOf(c values, rate float64) rounds {
	frequency := math.Min(math.Max(c.v[0], 20), rate/3)
	odd, t60 := c.v[2] == 1, c.v[1]
	round := math.Max(rate/frequency, 3)
	turn := 1 / round // cycles a sample of the lowest resonance
	octaves := 0.0
	if c.scale[1] == 0 {
		octaves = -math.Log2(1000) / (frequency * t60)
	} else {
		octaves = math.Log2(math.Abs(t60))
		odd = odd != (t60 < 0)
	}
	if odd {
		turn /= 2
	}
	octaves = math.Min(math.Max(octaves, -60), -1e-7)
	g := math.Exp2(octaves)
	h := math.Exp2(octaves * math.Max(c.v[3], 1))
	uu := 1.0
	if d := 2 * (g*g - h*h); 1-g*g < d {
		uu = (1 - g*g) / d
	}
	u, zero, high := math.Sqrt(uu), math.Sqrt(g*g+uu*(g*g-h*h)), h
	tan := math.Tan(math.Pi * turn)
	slope := u * (1 + tan*tan) / (2 * tan)
	e := math.Min(-octaves*math.Ln2/round*slope, 0.5)
	a, b := u/(1-e), high*u/(zero-high*e)
	apart := round - math.Atan((a-b)/(1+a*b))/(2*math.Pi)/turn
	whole := math.Floor(apart - 0.5)
	part := apart - whole
	l := rounds{delay: int(whole), k: math.Sin(math.Pi*turn*(1-part)) / math.Sin(math.Pi*turn*(1+part))}
	if c.scale[1] == 0 {
		kk := l.k * l.k
		group := (1 - kk) / (1 + 2*l.k*math.Cos(2*math.Pi*turn) + kk)
		ratio := high / zero
		bend := 1/(1+u*u) - ratio/(1+ratio*u*ratio*u)
		more := math.Exp2(octaves * ((whole+group+slope*bend)/round - 1))
		more = math.Min(more, (1+zero)/(2*zero))
		zero, high = zero*more, high*more
	}
	if odd {
		zero, high = -zero, -high
	}
	l.zero, l.high = zero, high
	l.corner = rate / math.Pi * math.Atan(tan/u)
	switch c.v[4] {
	case 0:
		l.input = math.Sqrt(1 - g*g)
	case 1:
		l.input = 1 - g
	default:
		l.input = 1
	}
	return l
}
