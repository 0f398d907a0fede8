package desk

import (
	"slices"

	"lampblack/patch"
)

// Selection is what is chosen on the page. It is not part of the bench.
type Selection struct {
	Modules []string     // the last one is shown in rulers
	Cord    int          // index in Patch.Cords, or -1
	Note    int          // index in Memory.Notes, or -1
	Socket  patch.Socket // zero if none
}

// ProbeID is one of the two measuring points.
type ProbeID int

const (
	ProbeA ProbeID = iota
	ProbeB
)

// Selection returns what is chosen, to be read only.
func (s *Session) Selection() Selection { return s.selection }

// Select chooses. It ends a drag.
func (s *Session) Select(sel Selection) {
	s.Settle()
	s.selection = sel
	s.dropSelection()
	s.tell(Select)
}

// Chosen returns the module whose rulers are shown, "" if none.
func (s *Session) Chosen() string {
	if n := len(s.selection.Modules); n > 0 {
		return s.selection.Modules[n-1]
	}
	return ""
}

// dropSelection lets go of what is not there any more.
func (s *Session) dropSelection() {
	p := &s.bench.Patch
	s.selection.Modules = slices.DeleteFunc(slices.Clone(s.selection.Modules), func(name string) bool {
		return p.Module(name) == nil
	})
	if s.selection.Cord >= len(p.Cords) {
		s.selection.Cord = -1
	}
	if s.selection.Note >= len(s.bench.Memory.Notes) {
		s.selection.Note = -1
	}
	for i, at := range s.probes {
		if at.Module != "" && p.Module(at.Module) == nil {
			s.probes[i] = patch.Socket{}
		}
	}
}

// Probe returns where a probe is, the zero Socket if nowhere.
func (s *Session) Probe(which ProbeID) patch.Socket { return s.probes[which] }

// SetProbe places a probe on an output; the zero Socket takes it away.
func (s *Session) SetProbe(which ProbeID, at patch.Socket) {
	s.probes[which] = at
	s.tell(Probes)
}

// Heard returns the first signal that an output hears; ok is false if there is
// none.
func (s *Session) Heard() (at patch.Socket, ok bool) { return heard(&s.bench.Patch) }

func heard(p *patch.Patch) (at patch.Socket, ok bool) {
	for _, c := range p.Cords {
		if m := p.Module(c.To.Module); m != nil && m.Kind == "output" {
			return c.From, true
		}
	}
	return patch.Socket{}, false
}

// probeFirst puts probe A, if it is nowhere, on the first signal that a patch
// begins to give out: its meter is the first thing that a beginner looks for.
func (s *Session) probeFirst(before, after *patch.Patch) {
	if s.probes[ProbeA] != (patch.Socket{}) {
		return
	}
	if _, was := heard(before); was {
		return
	}
	if at, is := heard(after); is {
		s.SetProbe(ProbeA, at)
	}
}

// placeProbes puts A on what the output hears and B on the first voltage, for a
// patch that has just come to the bench.
func (s *Session) placeProbes() {
	p := &s.bench.Patch
	s.probes = [2]patch.Socket{}
	s.probes[ProbeA], _ = heard(p)
	for _, c := range p.Cords {
		k := s.Kind(c.To.Module)
		if k != nil && k.Control(c.To.Name) != nil && c.From.Module != s.probes[ProbeA].Module {
			if m := p.Module(c.From.Module); m != nil && m.Kind != "memory" {
				s.probes[ProbeB] = c.From
				break
			}
		}
	}
	s.tell(Probes)
}
