package patch

import "math"

// Resolve returns p with the words of its settings turned into the numbers of
// choices and missing units filled in, as the controls of those kinds have
// them. What no control explains stays as it is, for Validate to tell. p is not
// changed.
func Resolve(p Patch, k Kinds) Patch {
	p = p.Clone()
	byName := make(map[string]*Module, len(p.Modules))
	for i := range p.Modules {
		m := &p.Modules[i]
		byName[m.Name] = m
		kind, ok := k.Kind(m.Kind)
		if !ok {
			continue
		}
		for name, s := range m.Settings {
			if c := kind.Control(name); c != nil {
				m.Settings[name] = c.resolve(s)
			}
		}
	}
	for i := range p.Cords {
		if c, scale := target(byName[p.Cords[i].To.Module], p.Cords[i].To.Name, k); c != nil {
			p.Cords[i].Depth = c.resolveDepth(p.Cords[i].Depth, scale)
		}
	}
	return p
}

// target returns the control of m with that name and the scale on which m's
// setting of it is written, or nil.
func target(m *Module, control string, k Kinds) (*Control, *Scale) {
	if m == nil {
		return nil, nil
	}
	kind, ok := k.Kind(m.Kind)
	if !ok {
		return nil, nil
	}
	c := kind.Control(control)
	if c == nil {
		return nil, nil
	}
	scale := 0
	if s, ok := m.Settings[control]; ok {
		scale = max(c.Scale(s.Unit), 0)
	}
	return c, &c.Scales[scale]
}

func (c *Control) resolve(s Setting) Setting {
	if names := c.Scales[0].Choices; names != nil && !math.IsNaN(s.Value) {
		if i := int(s.Value); s.Unit == "" && float64(i) == s.Value && i >= 0 && i < len(names) {
			return c.Choice(i)
		}
		return s
	}
	if !s.word() && !says(s.Text, s.Value, s.Unit) {
		return s // a value without a text of its own
	}
	if r, err := c.read(s.Text, c.Scales[0].Unit); err == nil {
		return r
	}
	return s
}

func (c *Control) resolveDepth(d Setting, scale *Scale) Setting {
	if len(scale.Moves) == 0 || !says(d.Text, d.Value, d.Unit) {
		return d
	}
	if r, err := c.readDepth(d.Text, scale); err == nil {
		return r
	}
	return d
}
