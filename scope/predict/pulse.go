package predict

import (
	"fmt"
	"math"
	"math/cmplx"
	"slices"

	"lampblack/patch/dsp/step"
)

// edges returns the pulse: its mean, and two rows of harmonics. A pulse of width d
// is a saw less the same saw d of a cycle later,
//
//	2d - 1 + sum over k of 2/(pi k) (sin(k p) - sin(k (p - 2 pi d))),
//
// p being the phase, so a width that moves is a phase modulation of the second.
// Together harmonic k is 4/(pi k) |sin(pi k d)| strong.
// Sources: Fourier series; Black, Modulation Theory, 1953.
func (c *carrier) edges() signal {
	width := c.width
	d := width.mean()
	second := *c
	second.start -= 2 * math.Pi * d
	second.modulator = slices.Clone(c.modulator)
	moves := slices.Clone(width.swing())
	mean := signal{lines: []line{{a: complex(2*d-1, 0), how: func() string { return fmt.Sprintf("2 x %s - 1 = %s", number(d), number(2*d-1)) }}}}
	for i := range moves {
		moves[i].a *= cmplx.Exp(complex(0, -2*math.Pi*moves[i].hz/c.rate*leaning))
		moved := moves[i]
		moved.a *= 2
		mean.lines = append(mean.lines, moved)
		moves[i].a *= -2 * math.Pi
	}
	second.modulator = c.divided(tidy(slices.Concat(c.moved(), moves), c.rate))
	if why := second.refuses(); why != "" {
		return unknown(why)
	}
	var lines []line
	for k := 1; c.reaches(k) || second.reaches(k); k++ {
		a := 2 / (math.Pi * float64(k))
		text := func() string {
			v := 4 / (math.Pi * float64(k)) * math.Abs(math.Sin(math.Pi*float64(k)*d))
			return fmt.Sprintf("4/(pi %d) |sin(pi %d x %s)| = %s", k, k, number(d), number(v))
		}
		both := append(c.harmonic(k, complex(a, 0), text), second.harmonic(k, complex(-a, 0), text)...)
		both = tidy(both, c.rate)
		if len(moves) == 0 && len(c.modulator) == 0 {
			for i := range both { // the two edges are one harmonic
				both[i].how, both[i].met = text, 0
			}
		}
		lines = append(lines, both...)
	}
	s := signal{late: width.late}
	s.lines = c.limit(tidy(lines, c.rate), &s)
	s = c.add(s, mean)
	return s
}

// moved returns what moves the phase as lines again.
func (c *carrier) moved() []line {
	var out []line
	for _, g := range c.modulator {
		for _, p := range g.parts {
			out = append(out, line{hz: g.hz * float64(p.n), a: p.a, turn: g.turn * int64(p.n), order: g.order.multiple(p.n)})
		}
	}
	return out
}

// passes is what the low-pass of a corner free of aliases leaves of a line of hz: 1 up
// to 18 kHz, nothing from where it would fold below 20 kHz.
func (c *carrier) passes(hz float64) float64 {
	return step.Load(c.rate).Passes(hz / c.rate)
}
