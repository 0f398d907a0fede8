package sheet

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"lampblack/app/desk"
	"lampblack/app/window/leaf"
	"lampblack/patch"
)

// Letters and figures play notes, so that the sheet's commands are on other
// keys, or held with Control.

// TypedKey works the sheet; what it has no use for goes to the window.
func (s *Sheet) TypedKey(ev *fyne.KeyEvent) {
	step := map[fyne.KeyName]direction{fyne.KeyLeft: leftward, fyne.KeyRight: rightward, fyne.KeyUp: upward, fyne.KeyDown: downward}
	if d, ok := step[ev.Name]; ok {
		s.step(d)
		return
	}
	switch ev.Name {
	case fyne.KeyInsert:
		s.addInView()
	case fyne.KeyDelete, fyne.KeyBackspace:
		s.remove()
	case fyne.KeyF2, fyne.KeyReturn, fyne.KeyEnter:
		s.rename(s.session.Chosen())
	case fyne.KeyPageDown:
		s.stepCord(1)
	case fyne.KeyPageUp:
		s.stepCord(-1)
	case fyne.KeyEscape:
		if !s.letGo() {
			leaf.PassKey(s, ev)
		}
	default:
		leaf.PassKey(s, ev)
	}
}

// TypedShortcut works the sheet with keys held with Control.
func (s *Sheet) TypedShortcut(sc fyne.Shortcut) {
	if _, all := sc.(*fyne.ShortcutSelectAll); all {
		s.chooseAll()
		return
	}
	c, ok := sc.(*desktop.CustomShortcut)
	if !ok || !s.control(c) {
		if w, ok := fyne.CurrentApp().Driver().CanvasForObject(s).(fyne.Shortcutable); ok {
			w.TypedShortcut(sc)
		}
	}
}

// control does what a key held with Control does; false if it is not the
// sheet's.
func (s *Sheet) control(c *desktop.CustomShortcut) bool {
	if c.Modifier&^fyne.KeyModifierShift != fyne.KeyModifierShortcutDefault {
		return false
	}
	step := map[fyne.KeyName]direction{fyne.KeyLeft: leftward, fyne.KeyRight: rightward, fyne.KeyUp: upward, fyne.KeyDown: downward}
	if d, ok := step[c.KeyName]; ok {
		s.nudge(d)
		return true
	}
	switch c.KeyName {
	case fyne.KeyJ:
		s.openJoin()
	case fyne.KeyBackspace:
		s.clearMarks()
	case fyne.KeyPlus, fyne.KeyEqual:
		s.Zoom(zoomStep)
	case fyne.KeyMinus:
		s.Zoom(1 / zoomStep)
	case fyne.Key0:
		s.Fit()
	case fyne.Key1:
		s.stepProbe(desk.ProbeA)
	case fyne.Key2:
		s.stepProbe(desk.ProbeB)
	default:
		return false
	}
	return true
}

// TypedRune is fyne's: letters are notes.
func (s *Sheet) TypedRune(rune) {}

// KeyDown gives keys to the window, where they play.
func (s *Sheet) KeyDown(ev *fyne.KeyEvent) { leaf.PassDown(s, ev) }

// KeyUp gives keys to the window. It ends a row of steps with the arrows.
func (s *Sheet) KeyUp(ev *fyne.KeyEvent) {
	switch ev.Name {
	case desktop.KeyControlLeft, desktop.KeyControlRight, desktop.KeySuperLeft, desktop.KeySuperRight:
		s.session.Settle()
	}
	leaf.PassUp(s, ev)
}

// FocusGained is fyne's.
func (s *Sheet) FocusGained() {
	s.focused = true
	s.update()
}

// FocusLost is fyne's.
func (s *Sheet) FocusLost() {
	s.focused = false
	s.update()
}

// step chooses the next module in a direction and brings it into view.
func (s *Sheet) step(d direction) {
	if name := s.layout.next(s.session.Chosen(), d); name != "" {
		s.session.Select(desk.Selection{Modules: []string{name}, Cord: -1, Note: -1})
		s.bring(name)
	}
}

// bring moves the view so far that a module is seen.
func (s *Sheet) bring(name string) {
	if b := s.layout.block(name); b != nil {
		if v := s.view.showing(b.box); v.off != s.view.off {
			s.look(v)
			return
		}
		s.update()
	}
}

// nudge moves the chosen modules by one place of the grid.
func (s *Sheet) nudge(d direction) {
	to := map[string]Point{}
	for _, name := range s.session.Selection().Modules {
		at := s.session.Patch().Module(name).At
		to[name] = snapped(Point{X: at.X + d.x*2*gridX, Y: at.Y + d.y*rule})
	}
	if len(to) > 0 {
		s.session.Do(desk.MoveModules(to))
		s.bring(s.session.Chosen())
	}
}

// stepCord chooses the next of the chosen module's cords, or of all.
func (s *Sheet) stepCord(by int) {
	p, sel := s.session.Patch(), s.session.Selection()
	chosen := s.session.Chosen()
	if chosen == "" && s.cordsOf != "" {
		chosen = s.cordsOf
	}
	if p.Module(chosen) == nil {
		chosen = ""
	}
	n := len(p.Cords)
	for i := 1; i <= n; i++ {
		at := ((sel.Cord+by*i)%n + n) % n
		if sel.Cord < 0 && by < 0 {
			at = (n - i) % n
		}
		if c := p.Cords[at]; chosen == "" || c.From.Module == chosen || c.To.Module == chosen {
			s.session.Select(desk.Selection{Cord: at, Note: -1})
			s.cordsOf = chosen
			return
		}
	}
}

// stepProbe puts a probe on the next output of the chosen module, and takes it
// away after the last.
func (s *Sheet) stepProbe(which desk.ProbeID) {
	k, name := s.session.Kind(s.session.Chosen()), s.session.Chosen()
	if k == nil || len(k.Outputs) == 0 {
		return
	}
	next := 0
	if at := s.session.Probe(which); at.Module == name {
		next = k.Output(at.Name) + 1
	}
	if next == len(k.Outputs) {
		s.session.SetProbe(which, patch.Socket{})
		return
	}
	s.session.SetProbe(which, patch.Socket{Module: name, Name: k.Outputs[next].Name})
}

func (s *Sheet) chooseAll() {
	var names []string
	for _, b := range s.layout.blocks {
		names = append(names, b.name)
	}
	s.session.Select(desk.Selection{Modules: names, Cord: -1, Note: -1})
}

// remove takes away the chosen cord or modules.
func (s *Sheet) remove() {
	sel := s.session.Selection()
	s.session.Settle()
	if cords := s.session.Patch().Cords; sel.Cord >= 0 && sel.Cord < len(cords) {
		s.session.Do(desk.Unjoin(cords[sel.Cord].From, cords[sel.Cord].To))
		s.session.Select(desk.Selection{Cord: -1, Note: -1})
		return
	}
	if len(sel.Modules) > 0 {
		next := ""
		for _, d := range []direction{leftward, upward, rightward, downward} {
			if n := s.layout.next(s.session.Chosen(), d); n != "" && !slices.Contains(sel.Modules, n) {
				next = n
				break
			}
		}
		if s.session.Do(desk.RemoveModules(sel.Modules...)) && next != "" {
			s.session.Select(desk.Selection{Modules: []string{next}, Cord: -1, Note: -1})
		}
	}
}

// letGo ends what is begun: a list, a cord being drawn, a choice.
func (s *Sheet) letGo() bool {
	sel := s.session.Selection()
	switch {
	case s.list != nil:
		s.closeList()
	case s.hand.doing == joining:
		s.hand = hand{}
		s.setOpen("")
		s.update()
	case len(sel.Modules) > 0 || sel.Cord >= 0:
		s.session.Select(desk.Selection{Cord: -1, Note: -1})
	default:
		return false
	}
	return true
}
