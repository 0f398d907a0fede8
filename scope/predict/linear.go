package predict

import (
	"fmt"
	"math"
	"math/cmplx"
	"slices"

	"gonum.org/v1/gonum/dsp/fourier"
)

// values are what the controls of a module stand at: by their place in the kind,
// in the engine's unit, and the scales in which they are written.
type values struct {
	v     []float64
	scale []int
	rows  [][]float64 // of the kind's table
}

// response is the gain of a linear module from an input to an output, by level
// and phase, at hz (0 to half the rate), while its controls stand at c.
type response func(c values, in, out int, hz, rate float64) complex128

// filtering is a kind that is linear in what it hears.
type filtering struct {
	gain response

	// refuses says why the module is not predicted after all, or "". Peak is the
	// most that what it hears can reach.
	refuses func(c values, peak []float64, rate float64) string

	// upTo says up to how many Hz the response holds; nil: up to half the rate.
	upTo func(c values, rate float64) float64
}

// responses is the table of what is linear and has a memory. Where the formulas
// come from stands beside each function.
var responses = map[string]filtering{
	"filter":    {gain: stateVariable},
	"ladder":    {gain: ladder, refuses: ladderRefuses},
	"allpass":   {gain: allpass},
	"tilt":      {gain: tilt},
	"dcblock":   {gain: dcblock},
	"width":     {gain: width},
	"delay":     {gain: delay, refuses: delayRefuses, upTo: delayReads},
	"resonator": {gain: resonator},
	"bands":     {gain: bank},
}

// linear works out a module of such a kind.
func (n *node) linear(f filtering) []signal {
	c := values{make([]float64, len(n.kind.Controls)), make([]int, len(n.kind.Controls)), n.module.RowsFor(n.kind)}
	moved := make([]signal, len(n.kind.Controls))
	var swing []line
	for i, spec := range n.kind.Controls {
		s := n.control(spec.Name)
		if !s.known() {
			return n.why("can't be predicted: %s", s.why[0])
		}
		c.v[i], c.scale[i], moved[i] = s.mean(), s.scale, s.signal
		swing = append(swing, s.swing()...)
	}
	in := make([]signal, len(n.kind.Inputs))
	peak := make([]float64, len(in))
	for i := range in {
		in[i] = n.input(i)
		peak[i] = n.peak(in[i])
	}
	if f.refuses != nil {
		if why := f.refuses(c, peak, n.rate); why != "" {
			return n.why("%s", why)
		}
	}
	if f.upTo != nil {
		n.up = math.Min(n.up, f.upTo(c, n.rate))
	}
	out := make([]signal, len(n.kind.Outputs))
	var sway *sway
	if len(swing) > 0 {
		var why string
		if sway, why = n.sways(moved, c, swing); why != "" {
			return n.why("%s", why)
		}
	}
	for o := range out {
		var parts []signal
		for i := range in {
			gain := func(c values, hz float64) complex128 { return f.gain(c, i, o, hz, n.rate) }
			name := n.module.Name
			if len(n.kind.Outputs) > 1 {
				name += " / " + n.kind.Outputs[o].Name
			}
			if sway != nil {
				parts = append(parts, n.swaying(in[i], sway, gain))
				continue
			}
			parts = append(parts, through(in[i], func(hz float64) complex128 { return gain(c, hz) }, name))
		}
		out[o] = n.add(parts...)
		out[o].late = true
	}
	return out
}

// peak is the most that a signal reaches; noise now and then reaches more.
func (w *walk) peak(s signal) float64 {
	low, high := w.extremes(s)
	v := math.Max(high, -low)
	if len(s.hiss) > 0 && s.hiss[0].source >= 0 { // what Response sends along the way is weak
		v += 4 * math.Sqrt(power(func(hz float64) float64 { return density(s.hiss, hz, w.rate) }, 5, w.rate/2))
	}
	return v
}

// sway is controls that move, over one cycle of what moves them.
type sway struct {
	family family
	at     []values
}

// steps is at how many places of its cycle a moving filter is looked at.
const steps = 128

// sways finds the cycle in which controls move.
func (n *node) sways(moved []signal, mean values, swing []line) (*sway, string) {
	if slices.ContainsFunc(swing, func(l line) bool { return l.hz < same }) {
		return nil, "is moved by tones whose phases nothing tells"
	}
	// All controls move in one cycle, or there is no saying.
	g := n.common(tidy(slices.Clone(swing), n.rate))
	if len(g) != 1 {
		return nil, "is moved by several tones that have no common cycle"
	}
	s := &sway{family: g[0], at: make([]values, steps)}
	if s.family.highest() > steps/8 {
		return nil, "is moved by a tone with too many harmonics"
	}
	for i := range s.at {
		t := 2 * math.Pi * float64(i) / steps
		v := values{slices.Clone(mean.v), mean.scale, mean.rows}
		for k := range moved {
			for _, l := range moved[k].swing() {
				v.v[k] += real(l.a * cmplx.Exp(complex(0, t*math.Round(l.hz/s.family.hz))))
			}
		}
		s.at[i] = v
	}
	return s, ""
}

// swaying is a signal behind a filter that moves slowly: at every moment it has
// the response of where it stands. That holds while it moves little in the time
// in which it rings; if not, it is said.
func (n *node) swaying(s signal, sway *sway, gain func(c values, hz float64) complex128) signal {
	n.claim(0.1)
	out := signal{late: true, why: s.why}
	fft := fourier.NewCmplxFFT(steps)
	x := make([]complex128, steps)
	strongest := 0.0
	for _, l := range s.lines {
		strongest = math.Max(strongest, cmplx.Abs(l.a))
	}
	var lines []line
	slow := true
	for _, l := range s.lines {
		lag, most := 0.0, 0.0
		strong := cmplx.Abs(l.a) > 0.01*strongest
		for i, v := range sway.at {
			x[i] = gain(v, l.hz)
			most = math.Max(most, cmplx.Abs(x[i]))
			if !strong {
				continue
			}
			lag = math.Max(lag, cmplx.Abs(gain(v, l.hz+0.5)-gain(v, math.Max(l.hz-0.5, 0))))
		}
		// The first thing that the moment's response leaves out: its slope over
		// frequency times its slope over time.
		if strong && lag*sway.family.hz > 0.01*most {
			slow = false
		}
		c := fft.Coefficients(nil, x)
		for k := range c {
			c[k] /= steps
		}
		for _, m := range n.spread(&sway.family, -steps/2, append(slices.Clone(c[steps/2:]), c[:steps/2]...), faint*most) {
			one := line{hz: l.hz + m.hz, a: l.a * m.a, turn: l.turn + m.turn, order: l.order.plus(m.order, 1), bent: l.bent, met: l.met}
			if was := l.how; was != nil {
				name, size, k := n.module.Name, cmplx.Abs(m.a), int(math.Round(m.hz/sway.family.hz))
				one.how = func() string {
					return fmt.Sprintf("%s x %s (%s moves: part %d of its swing)", was(), number(size), name, k)
				}
			}
			lines = append(lines, n.fold(one))
		}
	}
	out.lines = n.limit(tidy(lines, n.rate), &out)
	if !slow {
		out.why = append(out.why, n.module.Name+" moves about as fast as it rings: the lines are those of a filter that moves slowly")
	}
	for _, b := range s.hiss {
		was := b.gain
		b.gain = func(hz float64) complex128 {
			sum := 0.0
			for _, v := range sway.at {
				a := cmplx.Abs(gain(v, math.Abs(hz)))
				sum += a * a
			}
			return was(hz) * complex(math.Sqrt(sum/steps), 0)
		}
		b.turn = n.free() // it is not in step with other ways of the same noise
		out.hiss = append(out.hiss, b)
	}
	return out
}
