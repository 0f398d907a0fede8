package sheet

import (
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"lampblack/app/desk"
	"lampblack/app/window/look"
	"lampblack/patch"
	"lampblack/patch/kind"
)

// addInView opens the list of kinds beside the chosen module, or in the middle.
func (s *Sheet) addInView() { s.openAdd(s.beside()) }

// beside returns where the next module is put.
func (s *Sheet) beside() Point {
	if b := s.layout.block(s.session.Chosen()); b != nil {
		return Point{X: b.box.X1 + 4*rule, Y: b.box.Y0}
	}
	if len(s.layout.blocks) == 0 {
		return Point{X: 2 * rule, Y: 2 * rule}
	}
	return s.view.seen().centre()
}

// Next returns the chosen module, "" if none, and a free place beside it.
func (s *Sheet) Next() (module string, at patch.Point) {
	return s.session.Chosen(), s.layout.freePlace(s.beside())
}

// openAdd opens the list of kinds; what is taken is added at p, or below it
// where there is room.
func (s *Sheet) openAdd(p Point) {
	var items []item
	for _, k := range kind.All() {
		items = append(items, item{
			head: string(k.Family), name: k.Title, detail: look.Sentence(k.Help), words: k.Name + " " + look.Sentence(k.Help),
			take: func() { s.add(k.Name, p) },
		})
	}
	order := patch.Families()
	slices.SortStableFunc(items, func(a, b item) int {
		return slices.Index(order, patch.Family(a.head)) - slices.Index(order, patch.Family(b.head))
	})
	s.openList("add a module", "type to find one; Tab goes to the next family", s.view.at(p), items)
}

func (s *Sheet) add(kindName string, p Point) {
	e, name := desk.AddModule(kindName, s.layout.freePlace(p), s.session.Patch())
	s.session.Settle()
	if s.session.Do(e) {
		s.session.Select(desk.Selection{Modules: []string{name}, Cord: -1, Note: -1})
		s.bring(name)
	}
}

// openJoin opens the list of everything that the chosen module's outputs can be
// joined to.
func (s *Sheet) openJoin() {
	name := s.session.Chosen()
	k, b := s.session.Kind(name), s.layout.block(name)
	if k == nil || len(k.Outputs) == 0 {
		text := "Choose a module first (arrow keys): " + control + "+J joins its outputs."
		if k != nil {
			text = name + " has no output; nothing can be joined from it."
		}
		s.session.Notify(desk.Notice{Place: desk.AtSheet, Text: text})
		return
	}
	var items []item
	for _, out := range k.Outputs {
		from := patch.Socket{Module: name, Name: out.Name}
		for i := range s.session.Patch().Modules {
			items = append(items, s.targetsOf(from, len(k.Outputs) > 1, &s.session.Patch().Modules[i])...)
		}
	}
	at := s.view.at(Point{X: b.box.X1 + rule, Y: b.box.Y0})
	s.openList("join "+name+" to", "type a module, an input or a control; Tab goes to the next module", at, items)
}

// targetsOf lists the inputs and controls of a module as ends of a cord.
func (s *Sheet) targetsOf(from patch.Socket, several bool, m *patch.Module) []item {
	k := s.session.ShownKind(m.Name)
	if k == nil {
		return nil
	}
	var items []item
	offer := func(socket, help string) {
		to := patch.Socket{Module: m.Name, Name: socket}
		it := item{head: m.Name, name: socket, detail: help, words: from.Name, take: func() { s.join(from, to) }}
		if several {
			it.head = from.Name + " → " + m.Name
		}
		if why := s.refusal(from, to); why != "" {
			it.why = strings.TrimSuffix(why, "; nothing was changed.")
			it.why = strings.TrimPrefix(it.why, from.String()+" ")
		}
		items = append(items, it)
	}
	for _, in := range k.Inputs {
		offer(in.Name, in.Help)
	}
	for i := range k.Controls {
		if c := &k.Controls[i]; movable(c) {
			offer(c.Name, c.Help)
		}
	}
	return items
}

func movable(c *patch.Control) bool {
	if c.Fixed {
		return false
	}
	for i := range c.Scales {
		if len(c.Scales[i].Moves) > 0 {
			return true
		}
	}
	return false
}

// Add opens the list of kinds, as Insert does.
func (s *Sheet) Add() { s.addInView() }

var _ fyne.Focusable = (*Sheet)(nil)
