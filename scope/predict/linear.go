package predict

import (
	"math"
	"slices"
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

	// loops says what the module is made of, so that it can be worked out while its
	// controls move; nil: the response of each moment stands in for it.
	loops func(cycle []values, out int, rate float64) *loops

	// exact reports whether the response of each moment is all there is, as behind a
	// moving head; nil: it is not.
	exact func(c values) bool
}

// responses is the table of what is linear and has a memory. Where the formulas
// come from stands beside each function.
var responses = map[string]filtering{
	"filter":    {gain: stateVariable, loops: stateVariableLoops},
	"ladder":    {gain: ladder, refuses: ladderRefuses},
	"allpass":   {gain: allpass},
	"tilt":      {gain: tilt},
	"dcblock":   {gain: dcblock},
	"width":     {gain: width},
	"delay":     {gain: delay, refuses: delayRefuses, upTo: delayReads, exact: feedsNothing},
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
				m := &swayed{sway: sway, gain: gain, exact: f.exact != nil && !slices.ContainsFunc(sway.cycle(steps), func(c values) bool { return !f.exact(c) })}
				if f.loops != nil {
					m.loops = func(cycle []values) *loops { return f.loops(cycle, o, n.rate) }
				}
				parts = append(parts, n.swaying(in[i], m))
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
