// Package probing sends test signals through a module, or through a way of a
// patch, on an engine of its own.
//
//	patch -> Still -> Alone, Through -> Way -> Computed (package predict)
//	                                        -> Impulse, Sweep, Gate, Curve -> package sounding
//
// What is on the bench goes on sounding: a way is a small patch of its own, in
// which nothing moves a control and the test signal stands where a source was.
// A way is run twice, with and without the test signal, and the difference is
// what the test signal did: whatever sounds there besides is taken away to the
// last digit.
//
// Held by tests: the two-pole filters of scipy, first-order circuit theory, and
// what package predict computes, within 0.01 dB from 20 Hz to 18 kHz.
package probing

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"lampblack/patch"
	"lampblack/patch/kind"
	"lampblack/scope/predict"
)

// sender stands in a way's patch where the test signal comes from. For package
// predict it is a mixer with nothing in it; the engine is given another kind.
const (
	sender     = "test signal"
	senderKind = "mixer"
	silent     = "silence"
)

// sent is the output of the sender.
var sent = patch.Socket{Module: sender, Name: "out"}

// Way is a way through a patch for a test signal. It is a value of its own, and
// may be used on any goroutine.
type Way struct {
	Patch patch.Patch // with the sender; nothing moves its controls
	To    patch.Socket
	Rate  int // samples a second

	// Silent are the names of modules that were left out because they play a
	// recording, which is not at hand here.
	Silent []string
}

// Still returns the patch with no cord into any control: what it does at this
// moment, or as it is set. now tells where a moved control stands, in the unit
// of its setting; where it is nil or not ok the setting stays.
func Still(p *patch.Patch, now func(module, control string) (v float64, ok bool)) patch.Patch {
	q := patch.Resolve(*p, kind.Catalogue).Clone()
	cords := q.Cords[:0]
	for _, c := range q.Cords {
		m, k := moduleOf(&q, c.To.Module)
		if m == nil || k == nil || k.Control(c.To.Name) == nil {
			cords = append(cords, c)
			continue
		}
		if now == nil {
			continue
		}
		if v, ok := now(m.Name, c.To.Name); ok {
			hold(m, k.Control(c.To.Name), v)
		}
	}
	q.Cords = cords
	return q
}

// hold sets a control to v, in the unit in which it stands.
func hold(m *patch.Module, c *patch.Control, v float64) {
	s, ok := m.Settings[c.Name]
	if !ok {
		s = c.Default()
	}
	if math.IsInf(v, -1) && s.Unit == "dB" { // a factor of 0
		v = math.Inf(1)
		for _, scale := range c.Scales {
			if scale.Unit == "dB" {
				v = scale.Min
			}
		}
	}
	if i := c.Scale(s.Unit); i >= 0 {
		v = min(max(v, c.Scales[i].Min), c.Scales[i].Max)
	}
	if c.Stepped() {
		v = math.Round(v)
	}
	if m.Settings == nil {
		m.Settings = map[string]patch.Setting{}
	}
	m.Settings[c.Name] = patch.Setting{Value: v, Unit: s.Unit}
}

func moduleOf(p *patch.Patch, name string) (*patch.Module, *patch.Kind) {
	m := p.Module(name)
	if m == nil {
		return nil, nil
	}
	k, ok := kind.Catalogue.Kind(m.Kind)
	if !ok {
		return m, nil
	}
	return m, k
}

// Alone returns the way through one module of a patch, from an input (with "" for
// none: the module is only looked at) to an output. Nothing else is joined to it.
func Alone(p *patch.Patch, module, in, out string, rate int) (Way, error) {
	m, k := moduleOf(p, module)
	switch {
	case m == nil || k == nil:
		return Way{}, fmt.Errorf("there is no module %q", module)
	case k.Output(out) < 0:
		return Way{}, fmt.Errorf("%s has no output %q", module, out)
	case in != "" && k.Input(in) < 0:
		return Way{}, fmt.Errorf("%s has no input %q", module, in)
	}
	w := Way{To: patch.Socket{Module: module, Name: out}, Rate: rate, Patch: patch.Patch{Seed: p.Seed, Modules: []patch.Module{*m}}}
	w.Patch = w.Patch.Clone()
	if in != "" {
		w.Patch.Modules = append(w.Patch.Modules, patch.Module{Name: sender, Kind: senderKind})
		w.Patch.Cords = []patch.Cord{{From: sent, To: patch.Socket{Module: module, Name: in}}}
		w.silence(k, module, in)
	}
	return w, nil
}

// silence joins nothing to the sides that would follow the one that is tested.
func (w *Way) silence(k *patch.Kind, module, in string) {
	for _, other := range k.Inputs {
		if other.Open != patch.OpenLeft || other.Name == in {
			continue
		}
		if w.Patch.Module(silent) == nil {
			w.Patch.Modules = append(w.Patch.Modules, patch.Module{Name: silent, Kind: senderKind})
		}
		w.Patch.Cords = append(w.Patch.Cords, patch.Cord{From: patch.Socket{Module: silent, Name: "out"}, To: patch.Socket{Module: module, Name: other.Name}})
	}
}

// Through returns the way from where an output's cords end to another output: the
// test signal comes in place of the first output's signal. What swings a module
// through its modulation input stands still, as what moves a control does, unless
// that is the only way.
func Through(p *patch.Patch, from, to patch.Socket, rate int) (Way, error) {
	if m, k := moduleOf(p, to.Module); m == nil || k == nil || k.Output(to.Name) < 0 {
		return Way{}, fmt.Errorf("there is no output %s", to)
	}
	if from == to {
		return Way{}, fmt.Errorf("the way begins where it ends, at %s", to)
	}
	q := p.Clone()
	w := Way{To: to, Rate: rate}
	found := false
	if steady := unswung(&q); slices.Contains(Sources(&steady, to), from) {
		q = steady
	}
	for i := range q.Cords {
		if q.Cords[i].From == from {
			q.Cords[i].From, found = sent, true
		}
	}
	q.Modules = append(q.Modules, patch.Module{Name: sender, Kind: senderKind})
	w.drop(&q, func(m *patch.Module) bool { return m.Recording != nil })
	keep := Before(&q, to.Module)
	if !found || !slices.Contains(keep, sender) {
		return Way{}, fmt.Errorf("no way leads from %s to %s through audio inputs", from, to)
	}
	silenced := slices.DeleteFunc(w.Silent, func(name string) bool { return name == from.Module })
	w.drop(&q, func(m *patch.Module) bool { return !slices.Contains(keep, m.Name) })
	w.Patch, w.Silent = q, silenced
	for i := range q.Modules { // one voice: the way of one note
		if q.Modules[i].Kind == "memory" {
			one := map[string]patch.Setting{}
			for name, s := range q.Modules[i].Settings {
				if name != "voices" && name != "unison" {
					one[name] = s
				}
			}
			q.Modules[i].Settings = one
		}
	}
	return w, nil
}

// modulation is the input through which a sound swings a module.
const modulation = "modulation"

// unswung returns the patch with nothing in any modulation input.
func unswung(p *patch.Patch) patch.Patch {
	q := p.Clone()
	q.Cords = slices.DeleteFunc(q.Cords, func(c patch.Cord) bool { return c.To.Name == modulation && hears(&q, c.To) })
	return q
}

// drop leaves modules out, with their cords, and notes down which play recordings.
func (w *Way) drop(p *patch.Patch, gone func(m *patch.Module) bool) {
	var names []string
	p.Modules = slices.DeleteFunc(p.Modules, func(m patch.Module) bool {
		if !gone(&m) {
			return false
		}
		names = append(names, m.Name)
		if m.Recording != nil {
			w.Silent = append(w.Silent, m.Name)
		}
		return true
	})
	p.Cords = slices.DeleteFunc(p.Cords, func(c patch.Cord) bool {
		return slices.Contains(names, c.From.Module) || slices.Contains(names, c.To.Module)
	})
}

// Computed returns the gains of the way at each hz by its formulas. The error
// says in words why there are none.
func (w Way) Computed(hz []float64) ([]complex128, error) {
	level, phase, err := predict.Response(w.Patch, sent, w.To, w.conditions(), hz)
	if err != nil {
		return nil, w.inWords(err)
	}
	all := make([]complex128, len(hz))
	for i := range all {
		sin, cos := math.Sincos(phase[i] * math.Pi / 180)
		a := math.Pow(10, level[i]/20)
		all[i] = complex(a*cos, a*sin)
	}
	return all, nil
}

func (w Way) conditions() predict.Conditions {
	return predict.Conditions{Rate: float64(w.Rate), Velocity: 1, Held: true}
}

// inWords leaves out of a reason what package predict says of the ends of the
// way, which have other names here.
func (w Way) inWords(err error) error {
	text := err.Error()
	head := fmt.Sprintf("from %s to %s: ", sent, w.To)
	if len(text) > len(head) && text[:len(head)] == head {
		return errors.New(text[len(head):])
	}
	return err
}

// Near returns the frequencies that the way's controls are set to, in Hz: narrow
// things stand there.
func (w Way) Near() []float64 {
	var all []float64
	for i := range w.Patch.Modules {
		m := &w.Patch.Modules[i]
		_, k := moduleOf(&w.Patch, m.Name)
		for _, c := range k.Controls {
			s, ok := m.Settings[c.Name]
			if !ok {
				s = c.Default()
			}
			if s.Unit == "Hz" {
				all = append(all, s.Value)
			}
		}
	}
	return all
}
