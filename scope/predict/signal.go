package predict

import (
	"cmp"
	"fmt"
	"math"
	"math/cmplx"
	"slices"
)

// same is how close two frequencies in Hz are the same line.
const same = 1e-6

// faint is how weak a line is, beside the strongest, to be left out (-180 dB).
const faint = 1e-9

// mostLines is how many lines one signal may have.
const mostLines = 60000

// how writes the formula of a line's amplitude; nil: there is nothing to say.
type how func() string

// line is Re(a e^(2 pi j hz n/rate)) at sample n.
type line struct {
	hz    float64 // 0 to half the rate
	a     complex128
	turn  int64 // which phases it depends on that nothing tells; see walk.free
	order order
	how   how
	bent  bent
	met   int // how many more lines have met here
}

// bent says at which end of the frequencies a line has come back.
type bent uint8

const (
	reflected bent = 1 << iota // at 0 Hz
	folded                     // at half the rate
)

// signal is what an output gives once everything has settled.
type signal struct {
	lines []line   // by rising frequency
	hiss  []branch // noises
	why   []string // what else is in it that can't be predicted
	late  bool     // it is not this from the first sample on
}

// still reports whether the line is a voltage that stands still.
func (l *line) still() bool { return l.hz < same && l.turn == 0 }

// steady is a voltage that stands still.
func steady(v float64) signal {
	if v == 0 {
		return signal{}
	}
	return signal{lines: []line{{a: complex(v, 0)}}}
}

// unknown is a signal of which nothing can be said.
func unknown(why string) signal { return signal{why: []string{why}, late: true} }

// mean is the part that stands still.
func (s *signal) mean() float64 {
	v := 0.0
	for _, l := range s.lines {
		if l.still() {
			v += real(l.a)
		}
	}
	return v
}

// swing is the part that moves.
func (s *signal) swing() []line {
	return slices.DeleteFunc(slices.Clone(s.lines), func(l line) bool { return l.still() })
}

// still reports whether s is a voltage that stands still, and nothing else.
func (s *signal) still() bool { return len(s.hiss) == 0 && len(s.why) == 0 && len(s.swing()) == 0 }

// known reports whether s is lines and nothing else.
func (s *signal) known() bool { return len(s.hiss) == 0 && len(s.why) == 0 }

// reach is the most by which the moving part can leave the mean.
func (s *signal) reach() float64 {
	sum := 0.0
	for _, l := range s.swing() {
		sum += cmplx.Abs(l.a)
	}
	return sum
}

// tidy sorts lines, adds up those that meet and leaves out the faint ones.
func tidy(lines []line, rate float64) []line {
	slices.SortFunc(lines, func(a, b line) int { return cmp.Compare(a.hz, b.hz) })
	out := lines[:0]
	start := 0 // of the lines in out that have the same frequency
	most := 0.0
	for _, l := range lines {
		if len(out) > 0 && l.hz-out[start].hz > same {
			start = len(out)
		}
		at := -1
		for i := start; i < len(out); i++ {
			if out[i].turn == l.turn {
				at = i
			}
		}
		if at < 0 {
			out = append(out, l)
			continue
		}
		out[at] = meet(out[at], l)
	}
	for i, l := range out {
		if l.turn == 0 && (l.hz < same || l.hz > rate/2-same) {
			out[i].a = complex(real(l.a), 0) // a sine there is 0 at every sample
		}
		most = max(most, cmplx.Abs(out[i].a))
	}
	return slices.DeleteFunc(out, func(l line) bool { return cmplx.Abs(l.a) <= faint*most })
}

// few is how many more lines may meet for each to be told in the formula.
const few = 3

// meet adds two lines of one frequency. The stronger one gives the name.
func meet(a, b line) line {
	if cmplx.Abs(b.a) > cmplx.Abs(a.a) {
		a, b = b, a
	}
	if x, y := cmplx.Abs(a.a), cmplx.Abs(b.a); y > 1e-7*x {
		first, second := a, b
		if a.hz >= same {
			a.met += 1 + b.met
		}
		a.how = func() string { return meeting(first, second) }
		if a.met > few {
			n, sum := a.met+1, first.a+second.a
			a.how = func() string { return fmt.Sprintf("%d lines that meet here add up to = %s", n, number(cmplx.Abs(sum))) }
		}
	}
	a.a += b.a
	return a
}

// add returns the sum of signals. None of them is changed.
func (w *walk) add(parts ...signal) signal {
	var s signal
	for _, p := range parts {
		s.lines = append(s.lines, p.lines...)
		s.hiss = append(s.hiss, p.hiss...)
		s.why = append(s.why, p.why...)
		s.late = s.late || p.late
	}
	s.lines = w.limit(tidy(slices.Clone(s.lines), w.rate), &s)
	s.hiss = gather(s.hiss)
	return s
}

// limit keeps the strongest lines if there are too many.
func (w *walk) limit(lines []line, s *signal) []line {
	if len(lines) <= mostLines {
		return lines
	}
	slices.SortFunc(lines, func(a, b line) int { return cmp.Compare(cmplx.Abs(b.a), cmplx.Abs(a.a)) })
	if cmplx.Abs(lines[mostLines].a) > 1e-6*cmplx.Abs(lines[0].a) {
		s.why = append(s.why, "there are more lines than can be told apart; the strongest are listed")
	}
	return tidy(lines[:mostLines], w.rate)
}

// times returns g x s.
func times(s signal, g float64) signal {
	if g == 0 {
		return signal{}
	}
	return through(s, func(float64) complex128 { return complex(g, 0) }, "")
}

// through returns s behind a response, h at frequencies of 0 Hz and up. Name says
// what it is in the formulas of lines; empty: nothing that is worth saying.
func through(s signal, h func(hz float64) complex128, name string) signal {
	out := signal{why: s.why, late: s.late, lines: slices.Clone(s.lines)}
	for i := range out.lines {
		l := &out.lines[i]
		gain, was := h(l.hz), l.how
		l.a *= gain
		if name != "" && was != nil {
			hz := l.hz
			l.how = func() string { return passing(was, gain, name, hz) }
		}
	}
	out.hiss = make([]branch, len(s.hiss))
	for i, b := range s.hiss {
		out.hiss[i] = b.through(h)
	}
	return out
}

// product returns a x b, sample by sample: sums and differences of all
// frequencies, each half as strong; what passes half the rate folds.
// Source: cos a cos b = (cos(a - b) + cos(a + b))/2.
func (w *walk) product(a, b signal) signal {
	if !a.known() && !b.known() {
		return w.mixedProduct(a, b)
	}
	if !a.known() {
		a, b = b, a
	}
	s := signal{late: a.late || b.late}
	if len(a.lines) > 0 {
		s.why = append(s.why, b.why...)
	}
	w.multiply(&s, a.lines, b.lines)
	for _, n := range b.hiss {
		for _, l := range a.lines {
			s.hiss = append(s.hiss, n.shifted(l, w.rate)...)
		}
	}
	s.hiss = gather(s.hiss)
	return s
}

// mixedProduct is product where both sides hold what is not a line.
func (w *walk) mixedProduct(a, b signal) signal {
	s := signal{late: true, why: slices.Concat(a.why, b.why)}
	switch {
	case len(a.hiss) > 0 && len(b.hiss) > 0:
		s.why = append(s.why, "noise is multiplied by noise")
	case len(s.why) == 0:
		s.why = append(s.why, "noise is multiplied by what is not known")
	}
	return s
}

func (w *walk) multiply(s *signal, a, b []line) {
	strongest := func(lines []line) float64 {
		most := 0.0
		for _, l := range lines {
			most = max(most, cmplx.Abs(l.a))
		}
		return most
	}
	least := faint * strongest(a) * strongest(b)
	if pairs := len(a) * len(b); pairs > 200_000 {
		least *= float64(pairs) / 1000
	}
	var out []line
	for _, x := range a {
		for _, y := range b {
			if cmplx.Abs(x.a)*cmplx.Abs(y.a) < least {
				continue
			}
			out = append(out, w.beat(x, y, 1))
			if !x.still() && !y.still() {
				out = append(out, w.beat(x, y, -1))
			}
		}
	}
	s.lines = w.limit(tidy(out, w.rate), s)
}

// beat is the sum (sign +1) or the difference (-1) of two lines.
func (w *walk) beat(x, y line, sign int) line {
	if x.still() {
		x, y = y, x
	}
	l := line{hz: x.hz + float64(sign)*y.hz, turn: x.turn + int64(sign)*y.turn, order: x.order.plus(y.order, sign), bent: x.bent | y.bent, met: x.met + y.met}
	switch {
	case y.still():
		l.a = x.a * y.a
	case sign < 0:
		l.a = x.a * cmplx.Conj(y.a) / 2
	default:
		l.a = x.a * y.a / 2
	}
	if x.how != nil || y.how != nil {
		l.how = func() string { return multiplied(x, y) }
	}
	return w.fold(l)
}

// fold brings a line of any frequency to where it is heard.
func (w *walk) fold(l line) line {
	if l.hz > w.rate/2 || l.hz < -w.rate/2 {
		l.hz -= w.rate * math.Round(l.hz/w.rate)
		l.bent |= folded
	}
	if l.hz < 0 {
		l.hz, l.a, l.turn, l.order = -l.hz, cmplx.Conj(l.a), -l.turn, l.order.negative()
		if l.bent&folded == 0 {
			l.bent |= reflected
		}
	}
	return l
}
