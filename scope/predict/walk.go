package predict

import (
	"fmt"
	"math"
	"slices"

	"lampblack/patch"
	"lampblack/patch/kind"
)

// walk goes from the socket back to the sources. It is used once.
type walk struct {
	patch      patch.Patch
	conditions Conditions
	rate       float64

	sources []source
	noises  int
	frees   int64
	done    map[string][]signal // by module, its outputs
	stack   []string            // the modules on the way to here
	moving  []Movement
	claimed float64 // by how many dB lines may be off
	down    float64 // and down to how many dB under the strongest
	up      float64 // and up to how many Hz

	inject   patch.Socket // an output that gives nothing but a noise of 1 per Hz, for Response
	injected bool
}

// source is a tone that lines are multiples of.
type source struct {
	name string
	hz   float64 // of its fundamental; below 0 if it runs backwards
	turn int64
}

func newWalk(p patch.Patch, c Conditions) *walk {
	if !(c.Rate > 0) {
		c.Rate = 48000
	}
	return &walk{patch: patch.Resolve(p, kind.Catalogue), conditions: c, rate: c.Rate, done: map[string][]signal{}, claimed: 0.01, down: 100, up: c.Rate / 2}
}

// source makes a tone known and returns its number.
func (w *walk) source(name string, hz float64, turn int64) int {
	w.sources = append(w.sources, source{name, hz, turn})
	return len(w.sources)
}

// free returns a number for a phase that nothing tells. A line that hangs on it k
// times carries k times the number, and on several of them the sum: lines of equal
// frequency and equal sum are in step.
func (w *walk) free() int64 {
	w.frees++
	// Scattered: small multiples of two of them never add up to the same by chance.
	// Source: Steele, Lea and Flood, Fast splittable pseudorandom number generators,
	// OOPSLA 2014 (the finisher of SplitMix64).
	z := uint64(w.frees) * 0x9e3779b97f4a7c15
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return int64(z ^ z>>31)
}

// output returns what a socket gives.
func (w *walk) output(at patch.Socket) signal {
	m := w.patch.Module(at.Module)
	if m == nil {
		return unknown(fmt.Sprintf("there is no module %q", at.Module))
	}
	k, ok := kind.Catalogue.Kind(m.Kind)
	if !ok {
		return unknown(fmt.Sprintf("%s is of a kind that is not known, %q", m.Name, m.Kind))
	}
	n := k.Output(at.Name)
	if n < 0 {
		return unknown(fmt.Sprintf("%s has no output %q", m.Name, at.Name))
	}
	if at == w.inject {
		w.injected = true
		return signal{hiss: []branch{{source: -1, gain: one, density: func(float64) float64 { return 1 }}}, late: true}
	}
	if v, ok := w.conditions.Levels[at]; ok {
		s := steady(v)
		s.late = true
		return s
	}
	return w.module(m, k)[n]
}

func one(float64) complex128 { return 1 }

// module returns all outputs of a module.
func (w *walk) module(m *patch.Module, k *patch.Kind) []signal {
	if out, ok := w.done[m.Name]; ok {
		return out
	}
	if slices.Contains(w.stack, m.Name) {
		return w.each(k, unknown(fmt.Sprintf("%s hears itself: what goes round in a loop of cords is not predicted", m.Name)))
	}
	w.stack = append(w.stack, m.Name)
	n := &node{walk: w, module: m, kind: k}
	out := n.outputs()
	w.stack = w.stack[:len(w.stack)-1]
	w.done[m.Name] = out
	return out
}

// each gives every output of a kind the same.
func (w *walk) each(k *patch.Kind, s signal) []signal {
	out := make([]signal, len(k.Outputs))
	for i := range out {
		out[i] = s
	}
	return out
}

// node is the module that is being worked out.
type node struct {
	*walk
	module *patch.Module
	kind   *patch.Kind
}

// joined reports whether a cord ends in a socket of the module.
func (n *node) joined(name string) bool {
	return slices.ContainsFunc(n.patch.Cords, func(c patch.Cord) bool { return c.To.Module == n.module.Name && c.To.Name == name })
}

// input returns what an input hears.
func (n *node) input(i int) signal {
	in := n.kind.Inputs[i]
	if !n.joined(in.Name) {
		switch in.Open {
		case patch.OpenGate:
			return steady(n.conditions.gate())
		case patch.OpenLeft:
			return n.input(0)
		}
		return signal{} // silence, or a trigger long past
	}
	var parts []signal
	for _, c := range n.patch.Cords {
		if c.To.Module == n.module.Name && c.To.Name == in.Name {
			parts = append(parts, n.output(c.From))
		}
	}
	return n.add(parts...)
}

// why makes every output unknown.
func (n *node) why(format string, a ...any) []signal {
	return n.each(n.kind, unknown(n.module.Name+" "+fmt.Sprintf(format, a...)))
}

// move notes down that something moves too slowly to be a tone, or by a note.
func (w *walk) move(m Movement) {
	if !slices.ContainsFunc(w.moving, func(o Movement) bool { return o.Socket == m.Socket }) {
		w.moving = append(w.moving, m)
	}
}

// claim widens what is claimed to so many dB.
func (w *walk) claim(db float64) { w.claimed = math.Max(w.claimed, db) }
