package patch

import (
	"maps"
	"slices"
)

// String returns the form used in messages: "sway / out -> reed / centre".
func (c Cord) String() string { return c.From.String() + " -> " + c.To.String() }

// Equal reports whether p and q are the same patch: they would be written into
// the same file, positions and digits included.
func (p Patch) Equal(q Patch) bool {
	return p.Name == q.Name && p.Seed == q.Seed &&
		slices.EqualFunc(p.Modules, q.Modules, Module.equal) &&
		slices.EqualFunc(p.Cords, q.Cords, func(a, b Cord) bool {
			return a.From == b.From && a.To == b.To && (a.Depth == b.Depth ||
				a.Depth.exactDepth() == b.Depth.exactDepth() && (a.Depth == Setting{}) == (b.Depth == Setting{}))
		})
}

func (m Module) equal(n Module) bool {
	return m.Name == n.Name && m.Kind == n.Kind && m.At == n.At && m.Recording.equal(n.Recording) && SameRows(m.Rows, n.Rows) &&
		maps.EqualFunc(m.Settings, n.Settings, func(a, b Setting) bool { return a == b || a.Exact() == b.Exact() })
}

func (r *Recording) equal(s *Recording) bool {
	return r == s || r != nil && s != nil && *r == *s
}

// SameSound reports whether p and q sound the same: it does not look at
// positions, the patch's name, the digits a value was typed with or the order
// of modules and cords. A control left out is not the same as one that stands
// at its default, as only a kind knows the default; see Compare.
func (p Patch) SameSound(q Patch) bool {
	if p.Seed != q.Seed || len(p.Modules) != len(q.Modules) || len(p.Cords) != len(q.Cords) {
		return false
	}
	modules := make(map[string]Module, len(p.Modules))
	for _, m := range p.Modules {
		modules[m.Name] = m
	}
	for _, n := range q.Modules {
		m, ok := modules[n.Name]
		if !ok || m.Kind != n.Kind || !m.Recording.sameSound(n.Recording) || !SameRows(m.Rows, n.Rows) || !maps.EqualFunc(m.Settings, n.Settings, Setting.sameValue) {
			return false
		}
	}
	cords := make(map[ends]Setting, len(p.Cords))
	for _, c := range p.Cords {
		cords[ends{c.From, c.To}] = c.Depth
	}
	for _, c := range q.Cords {
		if d, ok := cords[ends{c.From, c.To}]; !ok || !d.sameValue(c.Depth) {
			return false
		}
	}
	return true
}

// ends are what makes a cord one of its kind in a patch.
type ends struct{ from, to Socket }

// sameValue reports whether s and t move a sound alike. Two words do when they
// are the same word.
func (s Setting) sameValue(t Setting) bool {
	if s.word() || t.word() {
		return s.Text == t.Text && s.word() == t.word()
	}
	return s.Value == t.Value && s.Unit == t.Unit
}

// sameSound reports whether r and s are the same file: by their bytes if both
// are known, otherwise by name.
func (r *Recording) sameSound(s *Recording) bool {
	switch {
	case r == nil || s == nil:
		return r == s
	case r.SHA256 != "" && s.SHA256 != "":
		return r.SHA256 == s.SHA256
	}
	return r.Name == s.Name
}
