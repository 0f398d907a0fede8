package predict

import (
	"cmp"
	"math"
	"math/cmplx"
	"slices"

	"gonum.org/v1/gonum/dsp/fourier"
)

// two is a line of a complex signal: a e^(2 pi j hz n/rate), hz of either sign.
type two struct {
	hz    float64
	a     complex128
	turn  int64
	order order
}

// family is the lines that are multiples of one frequency: one cycle of it says
// all there is to say.
type family struct {
	hz    float64
	turn  int64
	order order // of the frequency itself
	parts []part
	kept  []float64 // see samples
}

// part is a Re(e^(j n t)) of a family, t running through one cycle.
type part struct {
	n int
	a complex128
}

// samples returns the family's values at n places of its cycle, evenly apart; n is
// more than twice the highest part.
func (f *family) samples(n int) []float64 {
	if len(f.kept) == n {
		return f.kept
	}
	c := make([]complex128, n/2+1)
	for _, p := range f.parts {
		c[p.n] += p.a / 2
	}
	f.kept = fourier.NewFFT(n).Sequence(nil, c)
	return f.kept
}

func (f *family) highest() int {
	n := 1
	for _, p := range f.parts {
		n = max(n, p.n)
	}
	return n
}

// families divides moving lines by the frequencies whose multiples they are.
func (w *walk) families(lines []line) []family {
	var all []family
	bySource := map[int]int{}
	for _, l := range lines {
		if source, n := l.order.only(); source > 0 {
			g := w.sources[source-1]
			if math.Abs(g.hz*float64(n)-l.hz) < same && l.turn == int64(n)*g.turn {
				at, ok := bySource[source]
				if !ok {
					at = len(all)
					bySource[source] = at
					up := sign(g.hz)
					all = append(all, family{hz: math.Abs(g.hz), turn: int64(up) * g.turn, order: single(source, up)})
				}
				all[at].parts = append(all[at].parts, part{max(n, -n), l.a})
				continue
			}
		}
		all = append(all, family{hz: l.hz, turn: l.turn, order: l.order, parts: []part{{1, l.a}}})
	}
	return all
}

func sign(x float64) int {
	if x < 0 {
		return -1
	}
	return 1
}

// common returns the lines as few families: where their frequencies are whole
// multiples of one, as one.
func (w *walk) common(lines []line) []family {
	all := w.families(lines)
	if len(all) < 2 {
		return all
	}
	root := 0.0
	for _, f := range all {
		if f.turn != 0 {
			return all
		}
		root = divisor(root, f.hz)
	}
	top := 0.0
	for _, f := range all {
		top = max(top, f.hz*float64(f.highest()))
	}
	if root == 0 || top/root > 4096 {
		return all
	}
	one := family{hz: root, order: many}
	for _, f := range all {
		k := int(math.Round(f.hz / root))
		for _, p := range f.parts {
			one.parts = append(one.parts, part{p.n * k, p.a})
		}
	}
	return []family{one}
}

// divisor is the greatest frequency of which both are whole multiples (Euclid).
func divisor(a, b float64) float64 {
	for b > same*10 {
		a, b = b, math.Abs(a-b*math.Round(a/b))
	}
	return a
}

// expand returns f of a family's value as lines on both sides of 0 Hz: its Fourier
// series over one cycle. It takes more places until the highest lines are faint.
func (w *walk) expand(g *family, f func(v float64) complex128) []two {
	n := 64
	for n < 16*g.highest() {
		n *= 2
	}
	for {
		x := make([]complex128, n)
		for i, v := range g.samples(n) {
			x[i] = f(v)
		}
		c := fourier.NewCmplxFFT(n).Coefficients(nil, x)
		most, top := 0.0, 0.0
		for i := range c {
			c[i] /= complex(float64(n), 0)
			most = max(most, cmplx.Abs(c[i]))
			if i > n*3/8 && i < n*5/8 {
				top = max(top, cmplx.Abs(c[i]))
			}
		}
		if top <= faint*most || n >= 1<<15 {
			if top > faint*most {
				w.down = math.Min(w.down, 60)
			}
			// Of a curve with a kink, what lies under its highest lines is not exact.
			return w.spread(g, -n/2, append(slices.Clone(c[n/2:]), c[:n/2]...), math.Max(faint*most, top))
		}
		n *= 2
	}
}

// spread returns the coefficients of a cycle as lines, those above least.
func (w *walk) spread(g *family, first int, c []complex128, least float64) []two {
	var out []two
	for i, a := range c {
		if cmplx.Abs(a) <= least {
			continue
		}
		k := first + i
		out = append(out, two{float64(k) * g.hz, a, int64(k) * g.turn, g.order.multiple(k)})
	}
	return out
}

func (o order) multiple(k int) order {
	if o == many {
		return o
	}
	if k == 0 {
		return order{}
	}
	for i := range o {
		o[i].n *= int16(k)
	}
	return o
}

// combine multiplies complex signals of several families.
func combine(a, b []two) []two {
	if len(a) == 0 {
		return b
	}
	most := func(x []two) (m float64) {
		for _, l := range x {
			m = max(m, cmplx.Abs(l.a))
		}
		return m
	}
	least := 1e-3 * faint * most(a) * most(b) // many faint ones may meet
	var out []two
	for _, x := range a {
		for _, y := range b {
			if v := x.a * y.a; cmplx.Abs(v) > least {
				out = append(out, two{x.hz + y.hz, v, x.turn + y.turn, x.order.plus(y.order, 1)})
			}
		}
	}
	if len(out) > 500 {
		out = merged(out)
	}
	return out
}

// merged adds up lines of the same frequency.
func merged(all []two) []two {
	slices.SortFunc(all, func(a, b two) int { return cmp.Compare(a.hz, b.hz) })
	out := all[:1]
	for _, l := range all[1:] {
		if last := &out[len(out)-1]; l.hz-last.hz < same && l.turn == last.turn {
			if cmplx.Abs(l.a) > cmplx.Abs(last.a) {
				last.order = l.order
			}
			last.a += l.a
			continue
		}
		out = append(out, l)
	}
	return out
}

// real2 returns a signal of which x are the lines on both sides of 0 Hz.
func (w *walk) real2(x []two, late bool) signal {
	s := signal{late: late}
	lines := make([]line, len(x))
	for i, l := range x {
		lines[i] = w.fold(line{hz: l.hz, a: l.a, turn: l.turn, order: l.order})
	}
	s.lines = w.limit(tidy(lines, w.rate), &s)
	for i := range s.lines {
		s.lines[i].met, s.lines[i].how = 0, nil
	}
	return s
}

// raise returns e^(rate x s): with a sine of amplitude a in s the lines are the
// modified Bessel functions In(rate a). Source: Abramowitz & Stegun, 9.6.34.
func (w *walk) raise(s signal, rate float64) signal {
	out := []two{{a: complex(math.Exp(rate*s.mean()), 0)}}
	for _, g := range w.families(s.swing()) {
		out = combine(out, w.expand(&g, func(v float64) complex128 { return complex(math.Exp(rate*v), 0) }))
	}
	return w.real2(out, s.late)
}

// bend returns f of every sample of s. It does so for signals of one or two
// cycles; ok is false if s is of more.
func (w *walk) bend(s signal, f func(v float64) float64) (out signal, ok bool) {
	mean := s.mean()
	lines, ok := w.grid(s.swing(), func(v float64) complex128 { return complex(f(mean+v), 0) })
	if !ok {
		return signal{}, false
	}
	return w.real2(lines, s.late), true
}

func (w *walk) grid(swing []line, f func(v float64) complex128) ([]two, bool) {
	switch g := w.common(swing); len(g) {
	case 0:
		return []two{{a: f(0)}}, true
	case 1:
		return w.expand(&g[0], f), true
	case 2:
		if max(g[0].highest(), g[1].highest()) > 16 {
			return nil, false
		}
		return w.torus(&g[0], &g[1], f), true
	}
	return nil, false
}
