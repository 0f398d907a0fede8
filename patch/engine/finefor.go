package engine

import (
	"math"

	"lampblack/patch"
	"lampblack/patch/kind/oscillator"
	"lampblack/patch/memory"
)

// FineFor returns the factor (1, 2, 4 or 8) that RenderOptions.Fine needs so that
// no sideband of a modulated oscillator of p folds below 20 kHz louder than
// -120 dB, worked out from settings, depths and the highest note of m. It takes
// every modulator at its full swing of +-1, so it may ask for more than is needed,
// and it looks no further than frequencies, phases and feedback: saturation and
// ring modulators look after themselves. Rule: oscillator.FineFactor.
func FineFor(p patch.Patch, m memory.Memory, rate int, k patch.Kinds) int {
	if k == nil {
		k = defaultKinds
	}
	f := finer{patch: &p, kinds: k, rate: float64(rate)}
	for _, n := range m.Notes {
		if !n.Rest {
			f.highest = max(f.highest, n.Pitch)
		}
	}
	factor := 1
	for i := range p.Modules {
		if m := &p.Modules[i]; m.Kind == oscillatorKind {
			factor = max(factor, f.factor(m))
		}
	}
	for factor > 1 && factor*rate > MaxRate {
		factor /= 2
	}
	return factor
}

const oscillatorKind = "oscillator"

type finer struct {
	patch   *patch.Patch
	kinds   patch.Kinds
	rate    float64
	highest float64 // note, in octaves
}

// factor is what one oscillator needs.
func (f *finer) factor(m *patch.Module) int {
	carrier := f.frequency(m, nil)
	factor := 1
	for _, c := range f.patch.Cords {
		if c.To.Module != m.Name {
			continue
		}
		modulator := f.fastest(c.From.Module, map[string]bool{m.Name: true})
		if modulator == 0 {
			continue
		}
		depth := math.Abs(c.Depth.Value)
		index := 0.0
		switch {
		case c.To.Name == "phase":
			index = depth * math.Pi / 180
		case c.To.Name == "shift", c.To.Name == "frequency" && c.Depth.Unit == "Hz":
			index = depth / modulator
		case c.To.Name == "frequency":
			index = carrier * (math.Exp2(depth) - 1) / modulator
		}
		factor = max(factor, oscillator.FineFactor(carrier, modulator, index, f.rate))
	}
	if feedback := f.setting(m, "feedback"); feedback > 0 {
		factor = max(factor, oscillator.FineFactor(carrier, carrier, feedback/100*math.Pi, f.rate))
	}
	return factor
}

// frequency is the highest that an oscillator is played at, in Hz. seen are the
// modules on the way, so that loops end.
func (f *finer) frequency(m *patch.Module, seen map[string]bool) float64 {
	octaves := 0.0
	for _, c := range f.patch.Cords {
		if c.To.Module != m.Name || c.To.Name != "frequency" || c.Depth.Unit != "oct" {
			continue
		}
		from := f.patch.Module(c.From.Module)
		switch {
		case from != nil && from.Kind == MemoryKind && c.From.Name == "pitch":
			octaves += max(c.Depth.Value*f.highest, 0)
		case f.fastest(c.From.Module, seen) == 0: // an envelope, a slow oscillator: it moves the carrier itself
			octaves += math.Abs(c.Depth.Value)
		}
	}
	return min(float64(f.setting(m, "frequency")*math.Exp2(octaves))+math.Abs(f.setting(m, "shift")), 0.49*f.rate)
}

// fastest is the highest frequency of all oscillators that a module hears, or is.
func (f *finer) fastest(name string, seen map[string]bool) (hz float64) {
	m := f.patch.Module(name)
	if m == nil || seen[name] {
		return 0
	}
	path := map[string]bool{name: true}
	for s := range seen {
		path[s] = true
	}
	if m.Kind == oscillatorKind {
		return f.frequency(m, path)
	}
	kind, ok := f.kinds.Kind(m.Kind)
	for _, c := range f.patch.Cords {
		if c.To.Module == name && ok && kind.Input(c.To.Name) >= 0 {
			hz = max(hz, f.fastest(c.From.Module, path))
		}
	}
	return hz
}

// setting is what a control of m stands at, in its base unit.
func (f *finer) setting(m *patch.Module, control string) float64 {
	if s, ok := m.Settings[control]; ok {
		return s.Value
	}
	if kind, ok := f.kinds.Kind(m.Kind); ok {
		if c := kind.Control(control); c != nil {
			return c.Default().Value
		}
	}
	return 0
}
