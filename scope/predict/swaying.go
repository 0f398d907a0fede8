package predict

import (
	"fmt"
	"math"
	"math/cmplx"
)

// swaysWithin is by how many dB a line behind a moving filter may be off, and
// swaysDown and leastDown how far down that holds at best, and how far it must for it
// to be claimed at all.
const (
	swaysWithin = 0.1
	swaysDown   = 60
	leastDown   = 20
)

// swaying is a signal behind a filter that moves. It claims as much as is known of
// how the filter remembers.
func (n *node) swaying(s signal, m *swayed) signal {
	n.claim(swaysWithin)
	out := signal{late: true, why: s.why}
	var lines []line
	var doubts []doubt
	slow, strongest := true, 0.0
	for _, l := range s.lines {
		var c, off []complex128
		if slow {
			c, off, slow = m.parts(l.hz, n.rate)
		}
		if !slow {
			c, off = m.atRest(l.hz), nil
		}
		most := 0.0
		for k, a := range c {
			most = math.Max(most, cmplx.Abs(a))
			if off != nil {
				doubts = append(doubts, doubt{cmplx.Abs(a * l.a), cmplx.Abs(off[k] * l.a)})
			}
		}
		strongest = math.Max(strongest, most*cmplx.Abs(l.a))
		for _, p := range n.spread(&m.family, -len(c)/2, c, 1e-2*tooHigh*most) {
			lines = append(lines, n.fold(n.sidebandOf(l, p, m.family.hz)))
		}
	}
	out.lines = n.limit(tidy(lines, n.rate), &out)
	down := holdsDown(doubts, strongest)
	if !slow || down < leastDown {
		out.why = append(out.why, n.module.Name+" moves about as fast as it rings: the lines are those of a filter that moves slowly")
	} else {
		n.down = math.Min(n.down, down)
	}
	if len(s.hiss) > 0 && !m.hissHolds(n.rate) {
		out.why = append(out.why, n.module.Name+" moves about as fast as it rings: the noise is that of a filter that moves slowly")
	}
	for _, b := range s.hiss {
		out.hiss = append(out.hiss, n.swayingHiss(b, m))
	}
	return out
}

// doubt is the amplitude of a line, and by how much it may be off.
type doubt struct{ size, off float64 }

// holdsDown is how many dB under the strongest every line is within swaysWithin.
func holdsDown(all []doubt, strongest float64) float64 {
	const part = 0.01158 // 0.1 dB
	if strongest == 0 {
		return swaysDown
	}
	loudest := math.Pow(10, -swaysDown/20.0) * strongest
	for _, d := range all {
		if d.off > part*d.size {
			loudest = math.Max(loudest, math.Max(d.size, d.off))
		}
	}
	return math.Floor(-20 * math.Log10(loudest/strongest))
}

// sidebandOf is what part p of a cycle, hz times a second, makes of a line.
func (n *node) sidebandOf(l line, p two, hz float64) line {
	one := line{hz: l.hz + p.hz, a: l.a * p.a, turn: l.turn + p.turn, order: l.order.plus(p.order, 1), bent: l.bent, met: l.met}
	if was := l.how; was != nil {
		name, size, k := n.module.Name, cmplx.Abs(p.a), int(math.Round(p.hz/hz))
		one.how = func() string {
			return fmt.Sprintf("%s x %s (%s moves: part %d of its swing)", was(), number(size), name, k)
		}
	}
	return one
}

// swayingHiss is a noise behind a filter that moves: its mean power over a cycle.
func (n *node) swayingHiss(b branch, m *swayed) branch {
	was := b.gain
	b.gain = func(hz float64) complex128 {
		sum := 0.0
		cycle := m.cycle(4 * steps)
		for _, v := range cycle {
			a := cmplx.Abs(m.gain(v, math.Abs(hz)))
			sum += a * a
		}
		return was(hz) * complex(math.Sqrt(sum/float64(len(cycle))), 0)
	}
	b.turn = n.free() // it is not in step with other ways of the same noise
	return b
}

// hissHolds reports whether noise behind the loops of a filter has the power that
// the responses of the moments give it, at thirds of an octave that matter. Of other
// kinds nothing better is known.
func (m *swayed) hissHolds(rate float64) bool {
	if m.loops == nil {
		return true
	}
	var moment, whole []float64
	most := 0.0
	for hz := 25.0; hz < 0.4*rate; hz *= math.Cbrt(2) {
		c, _, ok := m.parts(hz, rate)
		if !ok {
			return false
		}
		sum := 0.0
		for _, v := range m.cycle(4 * steps) {
			a := cmplx.Abs(m.gain(v, hz))
			sum += a * a / (4 * steps)
		}
		moment, whole = append(moment, sum), append(whole, 0)
		for _, a := range c {
			whole[len(whole)-1] += real(a * cmplx.Conj(a))
		}
		most = math.Max(most, sum)
	}
	for i := range whole {
		if whole[i] > 1e-4*most && math.Abs(10*math.Log10(whole[i]/moment[i])) > 2*swaysWithin {
			return false
		}
	}
	return true
}
