package desk

import (
	"time"

	"lampblack/patch"
	"lampblack/patch/engine"
	"lampblack/patch/kind"
	"lampblack/patch/module"
)

// hear brings the engine from one patch to the next: settings and depths as
// they stand, anything else as a new graph that is faded to.
func (s *Session) hear(before, after *patch.Patch) {
	if !sameStructure(before, after) {
		s.compile(after)
		return
	}
	for i, m := range after.Modules {
		k, _ := kind.Catalogue.Kind(m.Kind)
		for j := range k.Controls {
			c := &k.Controls[j]
			was, is := settingOf(&before.Modules[i], c), settingOf(&m, c)
			if was.Value != is.Value || was.Unit != is.Unit {
				if err := s.engine.Set(m.Name, c.Name, is); err != nil {
					s.fault(AtSheet, err)
				}
			}
		}
	}
	for i, cord := range after.Cords {
		if d := before.Cords[i].Depth; d.Value != cord.Depth.Value || d.Unit != cord.Depth.Unit {
			if err := s.engine.SetDepth(cord.From, cord.To, cord.Depth); err != nil {
				s.fault(AtSheet, err)
			}
		}
	}
}

// compile makes p the sounding graph. Recordings that can't be had are silent,
// and the notice says so.
func (s *Session) compile(p *patch.Patch) {
	clips := map[string]*module.Clip{}
	for _, m := range p.Modules {
		if m.Recording == nil {
			continue
		}
		clip, err := s.clip(*m.Recording)
		if err != nil {
			s.fault(AtSheet, err)
			continue
		}
		clips[m.Name] = clip
	}
	graph, err := engine.Compile(*p, engine.Settings{Rate: s.rate, Clips: clips})
	if err != nil {
		s.fault(AtSheet, err)
		return
	}
	s.engine.Swap(graph)
}

// sameStructure tells whether the patches differ in nothing but settings,
// depths and places on the sheet. A setting or a depth that changes its unit
// would jump; a new graph is faded to, as it is where other modules would be
// there once for every voice.
func sameStructure(a, b *patch.Patch) bool {
	if a.Seed != b.Seed || len(a.Modules) != len(b.Modules) || len(a.Cords) != len(b.Cords) {
		return false
	}
	for i := range a.Modules {
		m, n := &a.Modules[i], &b.Modules[i]
		if m.Name != n.Name || m.Kind != n.Kind || !sameRecording(m.Recording, n.Recording) || !patch.SameRows(m.Rows, n.Rows) || !sameWriting(m, n) {
			return false
		}
	}
	for i := range a.Cords {
		c, d := a.Cords[i], b.Cords[i]
		if c.From != d.From || c.To != d.To || c.Depth.Unit != d.Depth.Unit {
			return false
		}
	}
	return engine.SameVoices(*a, *b, nil) // a slow oscillator may begin to heed the notes
}

// sameWriting tells whether two modules of a kind have all controls written in
// the same units, and unchanged what is settled when a patch is compiled or can't
// go to another value gradually: a new graph is faded to, so that a choice made by
// hand does not click.
func sameWriting(m, n *patch.Module) bool {
	k, _ := kind.Catalogue.Kind(m.Kind)
	for i := range k.Controls {
		c := &k.Controls[i]
		was, is := settingOf(m, c), settingOf(n, c)
		if was.Unit != is.Unit || (c.Fixed || c.Stepped()) && was.Value != is.Value {
			return false
		}
	}
	return true
}

func sameRecording(a, b *patch.Recording) bool {
	if a == nil || b == nil {
		return a == b
	}
	return a.SHA256 == b.SHA256
}

func settingOf(m *patch.Module, c *patch.Control) patch.Setting {
	if v, ok := m.Settings[c.Name]; ok {
		return v
	}
	return c.Default()
}

// Setting returns the value at which a control stands, written or by default.
func (s *Session) Setting(moduleName, control string) (patch.Setting, bool) {
	m := s.bench.Patch.Module(moduleName)
	if m == nil {
		return patch.Setting{}, false
	}
	k, ok := kind.Catalogue.Kind(m.Kind)
	if !ok || k.Control(control) == nil {
		return patch.Setting{}, false
	}
	return settingOf(m, k.Control(control)), true
}

// Kind returns the kind of the module of that name, or nil.
func (s *Session) Kind(moduleName string) *patch.Kind {
	m := s.bench.Patch.Module(moduleName)
	if m == nil {
		return nil
	}
	k, _ := kind.Catalogue.Kind(m.Kind)
	return k
}

// tapFor is how long a tap that nobody asks for stays on its output.
const tapFor = 10 * time.Second

// tap is a tap in use and when it was last asked for.
type tap struct {
	*engine.Tap
	asked time.Time
}

// Tap returns the live signal of an output, nil if there is no such output. Ask
// again at every redraw: a tap that is not asked for is let go of after 10 s.
func (s *Session) Tap(at patch.Socket) *engine.Tap {
	k := s.Kind(at.Module)
	if k == nil || k.Output(at.Name) < 0 {
		return nil
	}
	return s.listen(s.taps, at, s.engine.Tap)
}

// listen returns the tap that stands in a list, or begins one.
func (s *Session) listen(list map[patch.Socket]*tap, at patch.Socket, begin func(module, name string) *engine.Tap) *engine.Tap {
	now := s.now()
	s.dropIdle(now)
	t := list[at]
	if t == nil {
		t = &tap{Tap: begin(at.Module, at.Name)}
		list[at] = t
	}
	t.asked = now
	return t.Tap
}

// dropIdle lets go of taps that nobody asks for, now and then.
func (s *Session) dropIdle(now time.Time) {
	if now.Sub(s.idleSince) < tapFor/2 {
		return
	}
	s.idleSince = now
	for _, list := range []map[patch.Socket]*tap{s.taps, s.controlTaps} {
		for at, t := range list {
			if now.Sub(t.asked) > tapFor {
				s.engine.Untap(t.Tap)
				delete(list, at)
			}
		}
	}
}

// dropStale lets go of taps whose outputs are gone.
func (s *Session) dropStale() {
	for at, t := range s.taps {
		if k := s.Kind(at.Module); k == nil || k.Output(at.Name) < 0 {
			s.engine.Untap(t.Tap)
			delete(s.taps, at)
		}
	}
	for at, t := range s.controlTaps {
		if k := s.Kind(at.Module); k == nil || k.Control(at.Name) == nil {
			s.engine.Untap(t.Tap)
			delete(s.controlTaps, at)
		}
	}
	s.dropSelection()
}

// Swept returns the lowest, present and highest value that cords have driven a
// control to, in the scale's unit; ok is false where no cord moves it.
func (s *Session) Swept(moduleName, control string) (lowest, now, highest float64, ok bool) {
	return s.engine.Swept(moduleName, control)
}

// Clamped tells whether a module had to limit or reset itself.
func (s *Session) Clamped(moduleName string) bool { return s.engine.Clamped(moduleName) }
