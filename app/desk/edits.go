package desk

import (
	"fmt"
	"slices"
	"strings"

	"lampblack/notebook"
	"lampblack/patch"
	"lampblack/patch/kind"
	"lampblack/patch/memory"
)

// AddModule returns the edit that adds a module of a kind to p, and the name
// that the module will have ("noise", "noise 2", ...).
func AddModule(kindName string, at patch.Point, p *patch.Patch) (Edit, string) {
	name := FreeName(kindName, p)
	return Edit{Name: "add " + name, Apply: func(b *Bench) error {
		if _, ok := kind.Catalogue.Kind(kindName); !ok {
			return refuse(AtSheet, "there is no kind of module called %q; nothing was added", kindName)
		}
		b.Patch.Modules = append(b.Patch.Modules, patch.Module{Name: name, Kind: kindName, At: onSheet(at)})
		return nil
	}}, name
}

// FreeName returns wanted, or wanted with the first number that no module of p
// bears.
func FreeName(wanted string, p *patch.Patch) string {
	name := wanted
	for n := 2; p.Module(name) != nil; n++ {
		name = fmt.Sprintf("%s %d", wanted, n)
	}
	return name
}

func onSheet(at patch.Point) patch.Point {
	return patch.Point{X: min(max(at.X, 0), 100000), Y: min(max(at.Y, 0), 100000)}
}

// RemoveModules returns the edit that removes modules and every cord to or
// from them.
func RemoveModules(names ...string) Edit {
	gone := func(name string) bool { return slices.Contains(names, name) }
	return Edit{Name: "remove " + strings.Join(names, ", "), Apply: func(b *Bench) error {
		b.Patch.Modules = slices.DeleteFunc(b.Patch.Modules, func(m patch.Module) bool { return gone(m.Name) })
		b.Patch.Cords = slices.DeleteFunc(b.Patch.Cords, func(c patch.Cord) bool {
			return gone(c.From.Module) || gone(c.To.Module)
		})
		return nil
	}}
}

// RenameModule returns the edit that gives a module another name of its own;
// its cords follow.
func RenameModule(from, to string) Edit {
	to = strings.TrimSpace(to)
	return Edit{Name: fmt.Sprintf("rename %s to %s", from, to), Apply: func(b *Bench) error {
		if from != to && b.Patch.Module(to) != nil {
			return refuse(AtSheet, "%q is the name of another module; every module needs its own; %q kept its name", to, from)
		}
		m := b.Patch.Module(from)
		if m == nil {
			return refuse(AtSheet, "there is no module called %q; nothing was renamed", from)
		}
		m.Name = to
		for i := range b.Patch.Cords {
			c := &b.Patch.Cords[i]
			if c.From.Module == from {
				c.From.Module = to
			}
			if c.To.Module == from {
				c.To.Module = to
			}
		}
		return nil
	}}
}

// MoveModules returns the edit that puts modules elsewhere on the sheet.
func MoveModules(to map[string]patch.Point) Edit {
	names := make([]string, 0, len(to))
	for name := range to {
		names = append(names, name)
	}
	slices.Sort(names)
	list := strings.Join(names, ", ")
	return Edit{Name: "move " + list, Merge: "move " + list, Apply: func(b *Bench) error {
		for name, at := range to {
			if m := b.Patch.Module(name); m != nil {
				m.At = onSheet(at)
			}
		}
		return nil
	}}
}

// Join returns the edit that joins an output to an input or a control. Into a
// control a zero depth stands for the control's usual one.
func Join(from, to patch.Socket, depth patch.Setting) Edit {
	return Edit{Name: fmt.Sprintf("join %s to %s", from, to), Apply: func(b *Bench) error {
		cord := patch.Cord{From: from, To: to, Depth: depth}
		for _, c := range b.Patch.Cords {
			if c.From == from && c.To == to {
				return refuse(AtSheet, "%s is joined to %s already; nothing was changed", from, to)
			}
		}
		m := b.Patch.Module(to.Module)
		if m == nil {
			return refuse(AtSheet, "there is no module called %q; nothing was joined", to.Module)
		}
		if k, ok := kind.Catalogue.Kind(m.Kind); ok {
			if c := k.Control(to.Name); c != nil && depth == (patch.Setting{}) {
				usual, ok := UsualDepth(c, scaleOf(m, c))
				if !ok {
					return refuse(AtSheet, "%s can't be moved by a cord: it is set by hand; nothing was joined", to)
				}
				cord.Depth = usual
			}
		}
		b.Patch.Cords = append(b.Patch.Cords, cord)
		return nil
	}}
}

// UsualDepth returns the depth that a new cord into a control starts with: one
// octave, the whole of a factor, 6 dB, or a quarter of a linear scale's largest
// move; ok is false if no cord may end there.
func UsualDepth(c *patch.Control, scale int) (patch.Setting, bool) {
	if len(c.Scales[scale].Moves) == 0 {
		return patch.Setting{}, false
	}
	m := c.Scales[scale].Moves[0]
	v := m.Max / 4
	switch m.Kind {
	case patch.MoveOctaves, patch.MoveFactor:
		v = 1
	case patch.MoveDecibels:
		v = 6
	}
	return patch.Setting{Value: min(v, m.Max), Unit: m.Unit}, true
}

func scaleOf(m *patch.Module, c *patch.Control) int {
	return max(0, c.Scale(settingOf(m, c).Unit))
}

// Unjoin returns the edit that takes a cord away.
func Unjoin(from, to patch.Socket) Edit {
	return Edit{Name: fmt.Sprintf("unjoin %s from %s", from, to), Apply: func(b *Bench) error {
		b.Patch.Cords = slices.DeleteFunc(b.Patch.Cords, func(c patch.Cord) bool { return c.From == from && c.To == to })
		return nil
	}}
}

// SetRows returns the edit that gives a module the rows of its table; nil gives
// it those that its kind starts with.
func SetRows(moduleName string, rows [][]float64) Edit {
	return Edit{
		Name:  "draw " + moduleName,
		Merge: "draw " + moduleName,
		Apply: func(b *Bench) error {
			m := b.Patch.Module(moduleName)
			if m == nil {
				return refuse(AtSheet, "there is no module called %q; nothing was drawn", moduleName)
			}
			before := m.Rows
			m.Rows = rows
			if err := b.Patch.Validate(kind.Catalogue); err != nil {
				m.Rows = before
				return refuse(AtSheet, "%v; nothing was drawn", err)
			}
			return nil
		},
	}
}

// SetControl returns the edit that sets a control.
func SetControl(moduleName, control string, v patch.Setting) Edit {
	return Edit{
		Name:  fmt.Sprintf("set %s %s to %s", moduleName, control, v),
		Merge: "set " + moduleName + " / " + control,
		Apply: func(b *Bench) error {
			m := b.Patch.Module(moduleName)
			if m == nil {
				return refuse(AtSheet, "there is no module called %q; nothing was set", moduleName)
			}
			if m.Settings == nil {
				m.Settings = map[string]patch.Setting{}
			}
			m.Settings[control] = v
			dropForeignDepths(b, m, control)
			return nil
		},
	}
}

// dropForeignDepths gives cords into a control whose unit has changed the usual
// depth of the new scale where theirs is not one of its moves.
func dropForeignDepths(b *Bench, m *patch.Module, control string) {
	k, ok := kind.Catalogue.Kind(m.Kind)
	if !ok || k.Control(control) == nil {
		return
	}
	c := k.Control(control)
	scale := scaleOf(m, c)
	for i := range b.Patch.Cords {
		cord := &b.Patch.Cords[i]
		if cord.To != (patch.Socket{Module: m.Name, Name: control}) {
			continue
		}
		if _, ok := c.Scales[scale].Move(cord.Depth.Unit); !ok {
			cord.Depth, _ = UsualDepth(c, scale)
		}
	}
}

// ResetControl returns the edit that puts a control back to its default.
func ResetControl(moduleName, control string) Edit {
	return Edit{Name: fmt.Sprintf("set %s %s to its default", moduleName, control), Apply: func(b *Bench) error {
		if m := b.Patch.Module(moduleName); m != nil {
			delete(m.Settings, control)
			dropForeignDepths(b, m, control)
		}
		return nil
	}}
}

// SetDepth returns the edit that sets how far a cord moves its control.
func SetDepth(from, to patch.Socket, depth patch.Setting) Edit {
	return Edit{
		Name:  fmt.Sprintf("set depth of %s to %s", from, to),
		Merge: fmt.Sprintf("depth %s -> %s", from, to),
		Apply: func(b *Bench) error {
			for i, c := range b.Patch.Cords {
				if c.From == from && c.To == to {
					b.Patch.Cords[i].Depth = depth
					return nil
				}
			}
			return refuse(AtSheet, "no cord joins %s to %s; nothing was set", from, to)
		},
	}
}

// SetSeed returns the edit that draws all noise of the patch anew.
func SetSeed(seed uint64) Edit {
	return Edit{Name: fmt.Sprintf("set seed to %d", seed), Merge: "seed", Apply: func(b *Bench) error {
		b.Patch.Seed = seed
		return nil
	}}
}

// NamePatch returns the edit that names the patch.
func NamePatch(name string) Edit {
	return Edit{Name: "name the patch " + name, Merge: "name", Apply: func(b *Bench) error {
		b.Patch.Name = strings.TrimSpace(name)
		return nil
	}}
}

// SetNote returns the edit that writes the note.
func SetNote(text string) Edit {
	return Edit{Name: "write the note", Merge: "note", Apply: func(b *Bench) error {
		b.Note = text
		return nil
	}}
}

// SetTags returns the edit that sets the tags; empty ones and repetitions are
// left out.
func SetTags(tags []string) Edit {
	return Edit{Name: "set the tags", Merge: "tags", Apply: func(b *Bench) error {
		b.Tags = nil
		for _, t := range tags {
			if t = strings.TrimSpace(t); t != "" && !slices.Contains(b.Tags, t) {
				b.Tags = append(b.Tags, t)
			}
		}
		return nil
	}}
}

// SetMemory returns the edit that replaces the memory.
func SetMemory(name string, m memory.Memory) Edit {
	return Edit{Name: name, Apply: func(b *Bench) error {
		b.Memory = m.Clone()
		return nil
	}}
}

// FileUnder returns the edit that says under which cue the work is to be kept.
func FileUnder(cue notebook.Cue) Edit {
	return Edit{Name: "file under " + cue.Number, Apply: func(b *Bench) error {
		b.Cue = cue.ID
		return nil
	}}
}
