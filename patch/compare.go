package patch

import (
	"fmt"
	"maps"
	"slices"
)

// Change is one difference between two patches.
type Change struct {
	What   What
	Module string // its name in the later patch, or in the earlier one if it was removed; "" for the seed
	Place  string // the control, or the cord as "sway / out -> reed / centre"
	Before string // the setting, depth, name, kind, recording or seed; "" if there was none
	After  string
}

// What says what a Change is.
type What int

const (
	SettingChanged What = iota
	ModuleAdded         // After is the title of its kind
	ModuleRemoved       // Before is the title of its kind
	ModuleRenamed
	KindChanged
	RecordingChanged
	RowsChanged // Place is the table, or a number of it
	CordAdded   // Module is where it ends, After its depth
	CordRemoved // Module is where it ended, Before its depth
	DepthChanged
	SeedChanged
)

// String returns the change as a sound maker writes it: "reed: width 310 Hz ->
// 45 Hz", "sway added (slow oscillator)".
func (c Change) String() string {
	moved := c.Before + " -> " + c.After
	switch c.What {
	case SettingChanged:
		return c.Module + ": " + c.Place + " " + moved
	case ModuleAdded:
		return fmt.Sprintf("%s added (%s)", c.Module, c.After)
	case ModuleRemoved:
		return c.Module + " removed"
	case ModuleRenamed:
		return c.Before + " renamed " + c.After
	case KindChanged:
		return c.Module + ": kind " + moved
	case RowsChanged:
		return c.Module + ": " + c.Place + " " + moved
	case RecordingChanged:
		return c.Module + ": recording " + moved
	case CordAdded:
		return "cord " + c.Place + " added" + bracketed(c.After)
	case CordRemoved:
		return "cord " + c.Place + " removed"
	case DepthChanged:
		return c.Place + ": depth " + moved
	}
	return "seed " + moved
}

func bracketed(depth string) string {
	if depth == "" {
		return ""
	}
	return " (" + depth + ")"
}

// Compare returns what was changed from a to b, modules in b's order, then
// cords, then the seed. Positions, the patch's name, the order of modules and
// cords and the digits a value was typed with are not compared. A control left
// out stands at the default that k knows; k may be nil. A module that has
// another name but the same kind and most of its settings and cords was
// renamed.
func Compare(a, b Patch, k Kinds) []Change {
	c := comparison{kinds: k, before: byName(a), after: byName(b), names: map[string]string{}}
	c.renamed = c.renames(a, b)
	for old, name := range c.renamed {
		c.names[name] = old
	}
	for i := range b.Modules {
		c.module(&b.Modules[i])
	}
	for i := range a.Modules {
		m := &a.Modules[i]
		if _, stays := c.after[c.now(m.Name)]; !stays {
			c.add(Change{What: ModuleRemoved, Module: m.Name, Before: c.title(m)})
		}
	}
	c.cords(a.Cords, b.Cords)
	if a.Seed != b.Seed {
		c.add(Change{What: SeedChanged, Before: fmt.Sprint(a.Seed), After: fmt.Sprint(b.Seed)})
	}
	return c.changes
}

type comparison struct {
	kinds         Kinds
	before, after map[string]*Module
	renamed       map[string]string // new names by old ones
	names         map[string]string // and old ones by new ones
	changes       []Change
}

func byName(p Patch) map[string]*Module {
	modules := make(map[string]*Module, len(p.Modules))
	for i := range p.Modules {
		modules[p.Modules[i].Name] = &p.Modules[i]
	}
	return modules
}

func (c *comparison) add(change Change) { c.changes = append(c.changes, change) }

// now returns the name in the later patch of a module of the earlier one.
func (c *comparison) now(name string) string {
	if n, ok := c.renamed[name]; ok {
		return n
	}
	return name
}

func (c *comparison) kind(m *Module) *Kind {
	if c.kinds != nil {
		if k, ok := c.kinds.Kind(m.Kind); ok {
			return k
		}
	}
	return &Kind{Name: m.Kind, Title: m.Kind}
}

func (c *comparison) title(m *Module) string {
	if k := c.kind(m); k.Title != "" {
		return k.Title
	}
	return m.Kind
}

// module compares m with what it was.
func (c *comparison) module(m *Module) {
	was, ok := c.before[m.Name]
	if old, renamed := c.names[m.Name]; renamed {
		was, ok = c.before[old], true
		c.add(Change{What: ModuleRenamed, Module: m.Name, Before: old, After: m.Name})
	}
	if !ok {
		c.add(Change{What: ModuleAdded, Module: m.Name, After: c.title(m)})
		return
	}
	if was.Kind != m.Kind {
		c.add(Change{What: KindChanged, Module: m.Name, Before: c.title(was), After: c.title(m)})
	}
	if !was.Recording.sameSound(m.Recording) {
		c.add(Change{What: RecordingChanged, Module: m.Name, Before: was.Recording.title(nil), After: m.Recording.title(was.Recording)})
	}
	c.settings(was, m)
	c.compareRows(was, m)
}

// title names a recording, and says when it has the name of another.
func (r *Recording) title(other *Recording) string {
	switch {
	case r == nil:
		return "none"
	case other != nil && r.Name == other.Name:
		return r.Name + " (other sound)"
	case r.Name == "":
		return r.SHA256
	}
	return r.Name
}

func (c *comparison) settings(was, is *Module) {
	kind := c.kind(is)
	var names []string
	for _, control := range kind.Controls {
		names = append(names, control.Name)
	}
	unknown := maps.Clone(is.Settings)
	if was.Kind == is.Kind { // controls of another kind went with it
		for name, s := range was.Settings {
			if unknown == nil {
				unknown = map[string]Setting{}
			}
			unknown[name] = s
		}
	}
	for _, name := range names {
		delete(unknown, name)
	}
	for _, name := range append(names, slices.Sorted(maps.Keys(unknown))...) {
		before, hadOne := stands(was, name, kind)
		after, hasOne := stands(is, name, kind)
		if hadOne != hasOne || hadOne && !before.sameValue(after) {
			b, a := apart(before, after, Setting.String, Setting.Exact)
			c.add(Change{What: SettingChanged, Module: is.Name, Place: name, Before: orDefault(b, hadOne), After: orDefault(a, hasOne)})
		}
	}
}

// stands returns what a control of m stands at, if that is known.
func stands(m *Module, control string, k *Kind) (Setting, bool) {
	if s, ok := m.Settings[control]; ok {
		return s, true
	}
	if c := k.Control(control); c != nil {
		return c.Default(), true
	}
	return Setting{}, false
}

func orDefault(text string, known bool) string {
	if known {
		return text
	}
	return "default"
}

// apart writes two settings that differ, in full where they look the same.
func apart(a, b Setting, short, full func(Setting) string) (string, string) {
	if short(a) == short(b) {
		return full(a), full(b)
	}
	return short(a), short(b)
}

func (c *comparison) cords(before, after []Cord) {
	was := make(map[ends]Setting, len(before))
	for _, cord := range before {
		was[c.endsNow(cord)] = cord.Depth
	}
	is := make(map[ends]bool, len(after))
	for _, cord := range after {
		is[ends{cord.From, cord.To}] = true
	}
	for _, cord := range before {
		if e := c.endsNow(cord); !is[e] {
			c.add(Change{What: CordRemoved, Module: e.to.Module, Place: cord.String(), Before: depthText(cord.Depth)})
		}
	}
	for _, cord := range after {
		depth, ok := was[ends{cord.From, cord.To}]
		if !ok {
			c.add(Change{What: CordAdded, Module: cord.To.Module, Place: cord.String(), After: depthText(cord.Depth)})
		} else if !depth.sameValue(cord.Depth) {
			b, a := apart(depth, cord.Depth, Setting.Signed, Setting.exactDepth)
			c.add(Change{What: DepthChanged, Module: cord.To.Module, Place: cord.String(), Before: b, After: a})
		}
	}
}

// endsNow returns the ends of a cord of the earlier patch under the names of
// the later one.
func (c *comparison) endsNow(cord Cord) ends {
	return ends{Socket{c.now(cord.From.Module), cord.From.Name}, Socket{c.now(cord.To.Module), cord.To.Name}}
}

func depthText(d Setting) string {
	if d == (Setting{}) {
		return ""
	}
	return d.Signed()
}
