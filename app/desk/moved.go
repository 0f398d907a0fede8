package desk

import (
	"lampblack/patch"
	"lampblack/patch/engine"
)

// Moved is a control that cords move.
type Moved struct {
	At    patch.Socket
	Cords []patch.Cord // in the order in which they were joined
}

// Moved returns the controls that cords move, those of the modules that come
// first along the signal first; within a module in the order of its rulers.
func (s *Session) Moved() []Moved {
	var all []Moved
	for _, name := range alongTheSignal(&s.bench.Patch) {
		k := s.Kind(name)
		if k == nil {
			continue
		}
		for i := range k.Controls {
			m := Moved{At: patch.Socket{Module: name, Name: k.Controls[i].Name}}
			if m.Cords = s.cordsInto(m.At); len(m.Cords) > 0 {
				all = append(all, m)
			}
		}
	}
	return all
}

// MovedBy returns how many cords move a control.
func (s *Session) MovedBy(at patch.Socket) int {
	n := 0
	for i := range s.bench.Patch.Cords {
		if s.bench.Patch.Cords[i].To == at {
			n++
		}
	}
	return n
}

func (s *Session) cordsInto(at patch.Socket) (cords []patch.Cord) {
	for _, c := range s.bench.Patch.Cords {
		if c.To == at {
			cords = append(cords, c)
		}
	}
	return cords
}

// alongTheSignal returns the names of all modules, each behind those that feed
// it; a loop begins at the module that stands first in the patch.
func alongTheSignal(p *patch.Patch) []string {
	names := make([]string, 0, len(p.Modules))
	seen := map[string]bool{}
	var visit func(name string)
	visit = func(name string) {
		if seen[name] {
			return
		}
		seen[name] = true
		for i := range p.Cords {
			if p.Cords[i].To.Module == name {
				visit(p.Cords[i].From.Module)
			}
		}
		names = append(names, name)
	}
	for i := range p.Modules {
		visit(p.Modules[i].Name)
	}
	return names
}

// TapControl returns the live values of a control, nil if there is no such
// control. They are in the engine's unit: see engine.InUnit. Ask again at every
// redraw: a tap that is not asked for is let go of after 10 s.
func (s *Session) TapControl(at patch.Socket) *engine.Tap {
	k := s.Kind(at.Module)
	if k == nil || k.Control(at.Name) == nil {
		return nil
	}
	return s.listen(s.controlTaps, at, s.engine.TapControl)
}

// Limited tells whether a cord has tried to drive a control beyond its range
// since the swept ranges were begun.
func (s *Session) Limited(moduleName, control string) bool {
	return s.engine.Limited(moduleName, control)
}

// Sweeps counts how often the swept ranges were begun again: what is measured
// beside them begins again with them.
func (s *Session) Sweeps() int { return s.sweeps }

// SourceName returns what an output is called where there is little room: its
// module, and the output's own name only where that is not plainly "out" or the
// only one.
func (s *Session) SourceName(at patch.Socket) string {
	if k := s.Kind(at.Module); at.Name == "out" || k != nil && len(k.Outputs) == 1 {
		return at.Module
	}
	return at.Module + " " + at.Name
}
