package predict

import (
	"fmt"
	"math"
	"math/cmplx"
	"slices"

	"lampblack/patch/dsp/step"
)

// The shapes of an oscillator, in the order of its choices.
const (
	sine = iota
	triangle
	saw
	pulse
)

// highest is the highest frequency of an oscillator, as a part of the rate.
const highest = 0.49

// late is by how many samples a shape with corners follows what moves it, and
// leaning by how many it follows phase and width: a corner that is free of aliases
// begins before it happens.
const (
	late    = step.Delay
	leaning = step.Delay + 1
)

// oscillator is the kind of that name.
func (n *node) oscillator() []signal {
	if n.joined("sync") {
		return n.why("is started again by another oscillator: where its cycle breaks off depends on both, and no series is known here")
	}
	if v := n.control("feedback"); !v.still() || v.mean() != 0 {
		return n.why("leans on its own output (feedback): the series of Kepler's equation holds only for a loop without delay")
	}
	shape := n.control("shape")
	if !shape.still() {
		return n.why("changes its shape while it sounds")
	}
	c := carrier{node: n, name: n.module.Name, shape: int(math.Round(shape.mean()))}
	c.frequency = n.add(n.control("frequency").signal, n.control("shift").signal)
	c.phase = n.control("phase").signal
	c.width = n.control("width").signal
	if c.shape != pulse {
		c.width = steady(0.5)
	}
	for _, s := range []*signal{&c.frequency, &c.phase, &c.width} {
		if !s.known() {
			return n.why("can't be predicted: %s", s.why[0])
		}
	}
	c.frequency = n.fewer(c.frequency)
	for _, l := range c.frequency.swing() {
		if l.hz < same {
			return n.why("is tuned by two tones of equal frequency whose phases nothing tells")
		}
	}
	if low, high := n.extremes(c.frequency); high > highest*n.rate || low < -highest*n.rate {
		return n.why("is driven beyond 0.49 of the sample rate, where it is held")
	}
	out := c.sound()
	return []signal{out, unknown(n.module.Name + " tells the starts of its cycles: a row of ticks, not a tone")}
}

// A frequency that is moved by very many tones (one that is cut off at the end of
// its range has thousands of folded harmonics) is taken to be moved by those alone
// whose index is over slight: the sidebands of the others lie 126 dB under their
// carrier.
const (
	veryMany = 1000
	slight   = 1e-6
)

// fewer leaves slight tones out of what moves a frequency, in Hz. Lines are then
// claimed no deeper than those of a shape with corners.
func (n *node) fewer(v signal) signal {
	if len(v.lines) <= veryMany {
		return v
	}
	kept := v
	kept.lines = nil
	for _, l := range v.lines {
		least := slight * l.hz
		if l.hz < same && l.turn != 0 {
			least = 1e-3 // Hz that the tone is shifted by
		}
		if l.hz < same && l.turn == 0 || cmplx.Abs(l.a) > least {
			kept.lines = append(kept.lines, l)
		}
	}
	if len(kept.lines) < len(v.lines) {
		n.down = math.Min(n.down, corners)
	}
	return kept
}

// carrier is a tone whose frequency and phase may be modulated.
type carrier struct {
	*node
	name                    string
	shape                   int
	frequency, phase, width signal // Hz; degrees; 0 to 1

	number    int      // of its source
	turn      int64    // of its phase
	start     float64  // radians at sample 0, without what moves
	modulator []family // of what moves the phase, in radians
}

// sound returns the tone.
func (c *carrier) sound() signal {
	hz := c.frequency.mean()
	if c.frequency.late || c.conditions.AnyPhase {
		c.turn = c.free()
	}
	c.number = c.source(c.name, hz, c.turn)
	if c.shape != sine {
		c.down = math.Min(c.down, corners)
	}
	c.modulate()
	if why := c.refuses(); why != "" {
		return unknown(why)
	}
	s := signal{late: c.frequency.late || c.phase.late || c.width.late}
	var lines []line
	c.harmonics(func(k int, a float64, text how) {
		lines = append(lines, c.harmonic(k, complex(a, 0), text)...)
	})
	s.lines = c.limit(tidy(lines, c.rate), &s)
	if c.shape == pulse {
		s = c.add(s, c.edges())
	}
	return s
}

// modulate turns what moves frequency and phase into what moves the phase: a sum
// of samples is, for a line of w radians a sample, a factor of 1/(e^(jw) - 1) and a
// constant that makes it begin at 0.
func (c *carrier) modulate() {
	follows, leans := 0, 0
	if c.shape != sine {
		follows, leans = late, leaning
	}
	c.start = c.phase.mean() * math.Pi / 180
	var moves []line
	for _, l := range c.frequency.swing() {
		w := 2 * math.Pi * l.hz / c.rate
		begun := l.a
		if l.hz < same { // a steady part of which nothing is known but its size
			continue
		}
		l.a *= complex(2*math.Pi/c.rate, 0) / (cmplx.Exp(complex(0, w)) - 1)
		c.start -= real(l.a)
		c.start += 2 * math.Pi / c.rate * float64(follows) * real(begun)
		l.a *= cmplx.Exp(complex(0, -w*float64(follows)))
		moves = append(moves, l)
	}
	for _, l := range c.phase.swing() {
		l.a *= cmplx.Exp(complex(0, -2*math.Pi*l.hz/c.rate*float64(leans))) * complex(math.Pi/180, 0)
		moves = append(moves, l)
	}
	moves = slices.DeleteFunc(tidy(moves, c.rate), func(l line) bool { return cmplx.Abs(l.a) < 10*faint })
	for i := range moves {
		moves[i].how = nil
	}
	c.modulator = c.divided(moves)
	// Between two samples a shape's corners know the path of the phase by a few of
	// its neighbours, which a fast modulator leaves behind.
	if c.shape == sine {
		return
	}
	for _, l := range moves {
		if l.hz > fast && cmplx.Abs(l.a) > 1e-3 {
			c.claim(0.1)
			c.down = math.Min(c.down, 60)
		}
	}
}

// divided is what moves the phase as families, and where these are many as one, if
// they have a common cycle: the names of lines are lost with that.
func (c *carrier) divided(moves []line) []family {
	if all := c.families(moves); len(all) <= 3 {
		return all
	}
	return c.common(moves)
}

// corners is down to how many dB lines of a shape with corners are claimed: what
// folds of them lies 120 dB down, which moves a line of -60 dB by 0.0087 dB.
const corners = 60

// fast is from which rate in Hz on a modulator of a shape with corners is followed
// less exactly.
const fast = 500

// swings is the most by which the modulators move the frequency, in Hz.
func (c *carrier) swings() float64 {
	sum := 0.0
	for _, g := range c.modulator {
		for _, p := range g.parts {
			sum += cmplx.Abs(p.a) * g.hz * float64(p.n)
		}
	}
	return sum
}

// margin is how far beyond the swing of its frequency harmonic k has lines: a line
// of order n is at most (x/2)^n/n! strong, x being the index (Abramowitz & Stegun,
// 9.1.62), and orders above x + 4 + 4.6 cube root of x are below 1e-6 (9.3.23).
func (c *carrier) margin(k int) float64 {
	sum := 0.0
	for _, g := range c.modulator {
		most := 0.0
		for _, p := range g.parts {
			x := float64(k) * cmplx.Abs(p.a)
			orders := 4 + 4.6*math.Cbrt(x)
			for n, size := 0.0, 1.0; n < orders; n++ {
				if size < 1e-7 {
					orders = n
				}
				size *= x / 2 / (n + 1)
			}
			most = math.Max(most, orders*g.hz*float64(p.n))
		}
		sum += most
	}
	return sum
}

// harmonic returns the lines of a Im(e^(jk phase)).
func (c *carrier) harmonic(k int, a complex128, text how) []line {
	hz := float64(k) * c.sources[c.number-1].hz
	lines := []two{{hz: hz, a: a * -1i * cmplx.Exp(complex(0, float64(k)*c.start)), turn: int64(k) * c.turn, order: single(c.number, k)}}
	texts := func(two) how { return text }
	if len(c.modulator) > 0 {
		var spread []two
		for i := range c.modulator {
			spread = combine(spread, c.expand(&c.modulator[i], func(v float64) complex128 { return cmplx.Exp(complex(0, float64(k)*v)) }))
		}
		texts = c.sidebands(k, hz, text)
		least := 10 * faint
		if slices.ContainsFunc(c.modulator, func(g family) bool { return len(g.parts) > 100 }) {
			least = 100 * faint // a shape with corners, whose own series ends there
		}
		lines = slices.DeleteFunc(combine(lines, spread), func(l two) bool { return cmplx.Abs(l.a) < least })
	}
	out := make([]line, 0, len(lines))
	for _, l := range lines {
		one := line{hz: l.hz, a: l.a, turn: l.turn, order: l.order, how: texts(l)}
		if c.shape != sine {
			one.a *= complex(c.passes(math.Abs(l.hz)), 0)
			if math.Abs(l.hz) > 0.7*c.rate {
				continue // nothing of it is made
			}
		}
		out = append(out, c.fold(one))
	}
	return out
}

// sidebands returns what writes the formulas of the lines around hz.
func (c *carrier) sidebands(k int, hz float64, text how) func(two) how {
	if len(c.modulator) != 1 || len(c.modulator[0].parts) != 1 {
		return func(l two) how {
			a := cmplx.Abs(l.a)
			return func() string {
				return fmt.Sprintf("%s x a product of Bessel series, one for each sine that modulates = %s", short(text, 1), number(a))
			}
		}
	}
	g := &c.modulator[0]
	index := float64(k) * cmplx.Abs(g.parts[0].a)
	return func(l two) how {
		n := int(math.Round((l.hz - hz) / (g.hz * float64(g.parts[0].n))))
		return func() string {
			bessel := fmt.Sprintf("J%d(%s)", n, number(index))
			if n < 0 {
				bessel = fmt.Sprintf("J%d(%s)", -n, number(index))
			}
			size := math.Jn(max(n, -n), index)
			if c.shape == sine {
				return fmt.Sprintf("%s = %s", bessel, number(size))
			}
			return fmt.Sprintf("%s x %s = %s", short(text, 1), bessel, number(cmplx.Abs(l.a)))
		}
	}
}

// harmonics calls f for every harmonic of the shape: a is that of a sine in step
// with the cycle. A pulse has two, of a saw at either edge; see edges.
// Source: Fourier series.
func (c *carrier) harmonics(f func(k int, a float64, text how)) {
	if c.shape == sine {
		f(1, 1, func() string { return "sine = 1" })
		return
	}
	if c.shape == pulse {
		return
	}
	for k := 1; c.reaches(k); k++ {
		n := float64(k)
		switch {
		case c.shape == saw:
			a := 2 / (math.Pi * n)
			f(k, a*float64(1-2*((k+1)%2)), func() string { return fmt.Sprintf("2/(pi %d) = %s", k, number(a)) })
		case k%2 == 1:
			a := 8 / (math.Pi * n * math.Pi * n)
			f(k, a*float64(2-k%4), func() string { return fmt.Sprintf("8/(pi %d)^2 = %s", k, number(a)) })
		}
	}
}

// reaches reports whether anything of harmonic k lies where it is made.
func (c *carrier) reaches(k int) bool {
	apart := math.Abs(c.sources[c.number-1].hz) - c.swings()
	return float64(k)*apart-c.margin(k) < 0.65*c.rate && apart > 0 && k <= 4000
}

// refuses says why a tone with corners is not predicted, or "".
func (c *carrier) refuses() string {
	hz := math.Abs(c.sources[c.number-1].hz)
	if c.shape == sine {
		return ""
	}
	if swings := c.swings(); swings > 0.9*hz {
		return fmt.Sprintf("%s has corners, and its frequency comes near zero (%s Hz, moved by up to %s Hz): all of its endless harmonics come down then", c.name, number(hz), number(swings))
	}
	return ""
}
