package engine

import (
	"fmt"
	"math"

	"lampblack/patch"
)

// Set makes s the setting of a control. It is heard from the next block on, and
// reached smoothly (SmoothSeconds); a choice, and a setting in another unit than
// before, jump. An error says which module or control is not there, or that the
// unit is none of the control's or leaves a cord without a meaning; nothing has
// changed then. A value out of range is heard as the nearer end.
func (e *Engine) Set(module, control string, s patch.Setting) error {
	e.desk.Lock()
	defer e.desk.Unlock()
	c, spec := e.newest.control(module, control)
	if c == nil {
		return fmt.Errorf("%s / %s: there is no such control in the patch that sounds; nothing was set", module, control)
	}
	if spec.Fixed {
		return fmt.Errorf("%s / %s: it is settled when the patch is compiled; swap in a graph that has it; nothing was set", module, control)
	}
	if !finite(s.Value) {
		return fmt.Errorf("%s / %s: %g is not a value; nothing was set", module, control, s.Value)
	}
	scale := spec.Scale(s.Unit)
	if scale < 0 {
		return fmt.Errorf("%s / %s: unit %q is none of this control's; nothing was set", module, control, s.Unit)
	}
	for i := range c.cords {
		if _, ok := spec.Scales[scale].Move(c.cords[i].deskUnit); !ok {
			return fmt.Errorf("%s / %s: the cord from %s moves it in %q, which does not go with %q; nothing was set",
				module, control, c.cords[i].from, c.cords[i].deskUnit, s.Unit)
		}
	}
	c.deskScale = scale
	e.newest.tell(module, control, &s)
	e.newest.edits.Add(1)
	return nil
}

// SetDepth makes depth the depth of the cord between two sockets. It is heard
// from the next block on and reached smoothly. A depth in another unit than
// before moves in another way and is there at once, which may click: swap in a
// graph that has it, and it is faded to. An error says that there is no such cord into a control, or that
// the control cannot be moved in that unit; nothing has changed then.
func (e *Engine) SetDepth(from, to patch.Socket, depth patch.Setting) error {
	e.desk.Lock()
	defer e.desk.Unlock()
	c, spec := e.newest.control(to.Module, to.Name)
	if c == nil {
		return fmt.Errorf("%s: there is no such control in the patch that sounds; the depth was not set", to)
	}
	if !finite(depth.Value) {
		return fmt.Errorf("%s: %g is not a depth; it was not set", to, depth.Value)
	}
	for i := range c.cords {
		m := &c.cords[i]
		if m.from != from {
			continue
		}
		if _, ok := spec.Scales[c.deskScale].Move(depth.Unit); !ok {
			return fmt.Errorf("%s: it cannot be moved in %q; the depth was not set", to, depth.Unit)
		}
		m.deskUnit = depth.Unit
		e.newest.tellDepth(to, i, &depth)
		e.newest.edits.Add(1)
		return nil
	}
	return fmt.Errorf("%s: no cord comes from %s; the depth was not set", to, from)
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// tell makes s the goal of a control in every voice.
func (g *Graph) tell(module, name string, s *patch.Setting) {
	g.each(module, name, func(c *control, _ *patch.Control) { c.goal.Store(s) })
}

// tellDepth makes depth the goal of a control's cord of that number in every
// voice.
func (g *Graph) tellDepth(to patch.Socket, cord int, depth *patch.Setting) {
	g.each(to.Module, to.Name, func(c *control, _ *patch.Control) { c.cords[cord].goal.Store(depth) })
}

// takeEdits takes up what the desk has set since the last block.
func (g *Graph) takeEdits() {
	edits := g.edits.Load()
	if edits == g.done {
		return
	}
	g.done = edits
	for i := range g.nodes {
		some := false
		for k := range g.nodes[i].controls {
			some = g.nodes[i].controls[k].takeEdits() || some
		}
		if some {
			g.nodes[i].wake()
		}
	}
}

// takeEdits reports whether there was anything to take up.
func (c *control) takeEdits() (some bool) {
	if s := c.goal.Load(); s != c.seen {
		c.seen, some = s, true
		c.take(*s)
	}
	for k := range c.cords {
		if m := &c.cords[k]; m.goal.Load() != m.seen {
			m.seen, some = m.goal.Load(), true
			c.takeDepth(m, *m.seen)
		}
	}
	return some
}
