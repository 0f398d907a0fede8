package probing

import (
	"slices"

	"lampblack/patch"
)

// Before returns the names of a module and of all whose sound comes into it,
// nearest first; those that come in by a side input (a modulation, a carrier, a
// gate) last.
func Before(p *patch.Patch, module string) []string {
	all := []string{module}
	for _, sides := range []bool{false, true} {
		for i := 0; i < len(all); i++ {
			for _, c := range p.Cords {
				if c.To.Module == all[i] && !slices.Contains(all, c.From.Module) && (heard(p, c.To) || sides && hears(p, c.To)) {
					all = append(all, c.From.Module)
				}
			}
		}
	}
	return all
}

// hears tells whether a cord's end is an input, not a control.
func hears(p *patch.Patch, to patch.Socket) bool {
	_, k := moduleOf(p, to.Module)
	return k == nil || k.Input(to.Name) >= 0
}

// heard tells whether what comes in there is what the module passes on: its first
// input, another of a mixer, or the other side.
func heard(p *patch.Patch, to patch.Socket) bool {
	_, k := moduleOf(p, to.Module)
	if k == nil {
		return true
	}
	i := k.Input(to.Name)
	return i == 0 || i > 0 && (k.Grows > 0 || k.Inputs[i].Open == patch.OpenLeft)
}

// Sources returns the outputs of sources whose sound comes to an output, in the
// order of Before.
func Sources(p *patch.Patch, to patch.Socket) []patch.Socket {
	var all []patch.Socket
	for _, name := range Before(p, to.Module) {
		if _, k := moduleOf(p, name); k == nil || k.Family != patch.Sources || name == to.Module {
			continue
		}
		for _, c := range p.Cords {
			if c.From.Module == name && !slices.Contains(all, c.From) && hears(p, c.To) {
				all = append(all, c.From)
			}
		}
	}
	return all
}
