package sheet

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"lampblack/app/desk"
	"lampblack/patch"
)

// doing is what the mouse does between a press and its release.
type doing int

const (
	idle doing = iota
	pressing
	panning
	moving
	joining
	framing
)

// hand is what the mouse holds.
type hand struct {
	doing  doing
	on     hit           // what was pressed
	start  fyne.Position // where
	at     fyne.Position // where it is now
	moved  bool
	shift  bool
	second bool             // the other button
	from   map[string]Point // of modules that are moved
	view   view             // as it was, while panning
	aim    hit              // the socket in which a cord would end
	aimed  bool
	why    string // why a cord may not end there
}

// MouseDown takes hold of what is pressed.
func (s *Sheet) MouseDown(ev *desktop.MouseEvent) {
	s.focus()
	if s.list != nil {
		s.closeList()
	}
	on := s.layout.at(s.view.under(ev.Position), s.reach())
	s.hand = hand{
		doing: pressing, on: on, start: ev.Position, at: ev.Position, view: s.view,
		shift: ev.Modifier&fyne.KeyModifierShift != 0, second: ev.Button == desktop.MouseButtonSecondary,
	}
	if s.hand.second {
		return
	}
	switch on.what {
	case onBlock:
		s.chooseModule(on.socket.Module, s.hand.shift)
		if s.onMark(on, s.view.under(ev.Position)) {
			s.clearMarks()
		}
	case onCord:
		s.session.Select(desk.Selection{Cord: on.cord, Note: -1})
	}
}

// MouseUp ends a click: on an output it sets a probe, on an input it chooses
// the cord that ends there, on the ground it lets go of everything.
func (s *Sheet) MouseUp(*desktop.MouseEvent) {
	h := s.hand
	if h.doing != pressing {
		s.finish()
		return
	}
	s.hand = hand{}
	switch {
	case h.on.what == onOutput && (h.second || h.shift):
		s.toggleProbe(desk.ProbeB, h.on.socket)
	case h.on.what == onOutput:
		s.toggleProbe(desk.ProbeA, h.on.socket)
	case h.second:
	case h.on.what == onInput || h.on.what == onControl:
		s.chooseCordInto(h.on.socket)
	case h.on.what == ground && !h.shift:
		s.session.Select(desk.Selection{Cord: -1, Note: -1})
	}
}

// Dragged pans on the ground (with Shift it draws a frame about what is to be
// chosen), moves what is chosen on a block, and draws a cord from a socket.
func (s *Sheet) Dragged(ev *fyne.DragEvent) {
	h := &s.hand
	h.at, h.moved = ev.Position, true
	if h.doing == pressing {
		s.begin()
	}
	switch h.doing {
	case panning:
		way := h.at.Subtract(h.start)
		v := s.view
		v.off = Point{X: h.view.off.X - float64(way.X)/v.scale(), Y: h.view.off.Y - float64(way.Y)/v.scale()}
		s.look(v)
	case moving:
		s.moveTo(h.at)
	case joining:
		s.aimAt(h.at)
	case framing:
		s.update()
	}
}

func (s *Sheet) begin() {
	h := &s.hand
	switch h.on.what {
	case onOutput, onInput, onControl:
		h.doing = joining
	case onBlock:
		h.doing = moving
		h.from = map[string]Point{}
		for _, name := range s.session.Selection().Modules {
			h.from[name] = s.session.Patch().Module(name).At
		}
		if _, ok := h.from[h.on.socket.Module]; !ok { // Shift let go of it
			h.doing = panning
		}
	default:
		h.doing = panning
		if h.shift {
			h.doing = framing
		}
	}
}

// DragEnd ends what a drag did.
func (s *Sheet) DragEnd() { s.finish() }

func (s *Sheet) finish() {
	h := s.hand
	s.hand = hand{}
	switch h.doing {
	case moving:
		s.session.Settle()
	case joining:
		s.setOpen("")
		if h.aimed {
			s.join(h.ends())
		} else if h.why != "" {
			s.session.Notify(desk.Notice{Place: desk.AtSheet, Text: h.why})
		}
	case framing:
		s.chooseFramed(span(s.view.under(h.start), s.view.under(h.at)))
	}
	if h.moved {
		s.hover = s.layout.at(s.view.under(h.at), s.reach())
	}
	s.update()
}

// ends returns the output and the input or control of the cord being drawn,
// from whichever end it was begun.
func (h hand) ends() (from, to patch.Socket) {
	if h.on.what == onOutput {
		return h.on.socket, h.aim.socket
	}
	return h.aim.socket, h.on.socket
}

// chooseFramed adds the modules that touch a frame to what is chosen.
func (s *Sheet) chooseFramed(frame Box) {
	chosen := slices.Clone(s.session.Selection().Modules)
	for _, i := range s.layout.near(frame) {
		b := s.layout.blocks[i]
		if b.box.meets(frame) && !slices.Contains(chosen, b.name) {
			chosen = append(chosen, b.name)
		}
	}
	s.session.Select(desk.Selection{Modules: chosen, Cord: -1, Note: -1})
}

// moveTo moves what is chosen as far as the pointer went, onto the ruled lines.
func (s *Sheet) moveTo(at fyne.Position) {
	way := at.Subtract(s.hand.start)
	dx, dy := float64(way.X)/s.view.scale(), float64(way.Y)/s.view.scale()
	to := map[string]Point{}
	for name, from := range s.hand.from {
		to[name] = snapped(Point{X: from.X + dx, Y: from.Y + dy})
	}
	s.session.Do(desk.MoveModules(to))
}

// aimAt looks where the cord being drawn would end. The module under the
// pointer shows all its controls, if it is they that are looked for.
func (s *Sheet) aimAt(at fyne.Position) {
	p, h := s.view.under(at), &s.hand
	if h.on.what == onOutput {
		if b := s.layout.at(p, s.reach()).socket.Module; b != "" {
			s.setOpen(b)
		} else if open := s.layout.block(s.open); open != nil && !open.box.grown(socketReach).holds(p) {
			s.setOpen("")
		}
		h.aim, h.aimed = s.layout.targetAt(p, s.reach())
	} else {
		h.aim, h.aimed = s.layout.sourceAt(p, s.reach())
	}
	h.why = ""
	if h.aimed {
		h.why = s.refusal(h.ends())
		h.aimed = h.why == ""
	}
	s.update()
}

// setOpen lays the patch out with all controls of one module shown.
func (s *Sheet) setOpen(module string) {
	if module != s.open {
		s.open = module
		s.relay()
	}
}

// target tells whether the cord being drawn may end in a socket.
func (s *Sheet) target(at patch.Socket) bool {
	return s.hand.doing == joining && s.hand.aimed && s.hand.aim.socket == at
}

// DoubleTapped renames a module, or adds one on the ground.
func (s *Sheet) DoubleTapped(ev *fyne.PointEvent) {
	p := s.view.under(ev.Position)
	switch h := s.layout.at(p, s.reach()); h.what {
	case onBlock:
		s.rename(h.socket.Module)
	case ground:
		s.openAdd(p)
	}
}

// Scrolled pans; with Control it zooms about the pointer.
func (s *Sheet) Scrolled(ev *fyne.ScrollEvent) {
	if s.list != nil && s.list.holds(ev.Position) {
		s.list.scroll(ev.Scrolled.DY)
		return
	}
	if held()&fyne.KeyModifierShortcutDefault != 0 {
		factor := 1 + float64(ev.Scrolled.DY)/60
		s.look(s.view.zoomed(min(max(factor, 0.5), 2), ev.Position))
		return
	}
	const speed = 3 // a notch is 10 units: 30 on the sheet, a ruled line and a little
	v := s.view
	v.off.X -= speed * float64(ev.Scrolled.DX) / v.scale()
	v.off.Y -= speed * float64(ev.Scrolled.DY) / v.scale()
	s.look(v)
}

// held returns the modifiers that are held. Tests put another hand on the keys.
var held = func() fyne.KeyModifier {
	if d, ok := fyne.CurrentApp().Driver().(desktop.Driver); ok {
		return d.CurrentKeyModifiers()
	}
	return 0
}

// MouseIn is fyne's.
func (s *Sheet) MouseIn(ev *desktop.MouseEvent) { s.MouseMoved(ev) }

// MouseMoved names what is under the pointer.
func (s *Sheet) MouseMoved(ev *desktop.MouseEvent) {
	h := s.layout.at(s.view.under(ev.Position), s.reach())
	if s.hand.doing > pressing || h == s.hover {
		return
	}
	s.hover = h
	s.update()
}

// MouseOut is fyne's.
func (s *Sheet) MouseOut() {
	if s.hand.doing <= pressing && s.hover.what != ground {
		s.hover = hit{cord: -1}
		s.update()
	}
}

// Cursor shows that a cord can be drawn from an output.
func (s *Sheet) Cursor() desktop.Cursor {
	switch {
	case s.hand.doing == joining || s.hover.what == onOutput:
		return desktop.CrosshairCursor
	case s.hover.what == onBlock || s.hover.what == onCord || s.hover.what == onInput || s.hover.what == onControl:
		return desktop.PointerCursor
	}
	return desktop.DefaultCursor
}

// chooseModule chooses a module, or with more adds it to what is chosen or lets
// go of it. A module that is chosen already stays so: it may be about to be
// moved with others.
func (s *Sheet) chooseModule(name string, more bool) {
	chosen := slices.Clone(s.session.Selection().Modules)
	i := slices.Index(chosen, name)
	switch {
	case more && i >= 0:
		chosen = slices.Delete(chosen, i, i+1)
	case more:
		chosen = append(chosen, name)
	case i >= 0:
		chosen = append(slices.Delete(chosen, i, i+1), name)
	default:
		chosen = []string{name}
	}
	s.session.Select(desk.Selection{Modules: chosen, Cord: -1, Note: -1})
}

func (s *Sheet) chooseCordInto(at patch.Socket) {
	cords := s.session.Patch().Cords
	now := s.session.Selection().Cord
	for n := range cords { // several cords into one socket are chosen in turn
		i := (now + 1 + n) % len(cords)
		if cords[i].To == at {
			s.session.Select(desk.Selection{Cord: i, Note: -1})
			return
		}
	}
	s.chooseModule(at.Module, false)
}

func (s *Sheet) toggleProbe(which desk.ProbeID, at patch.Socket) {
	if s.session.Probe(which) == at {
		at = patch.Socket{}
	}
	s.session.SetProbe(which, at)
}

func (s *Sheet) focus() {
	if c := fyne.CurrentApp().Driver().CanvasForObject(s); c != nil && !s.focused {
		c.Focus(s)
	}
}
