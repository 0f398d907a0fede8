package ruler

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"lampblack/app/window/leaf"
	"lampblack/patch"
)

// grip is what a press on the scale has taken hold of.
type grip struct {
	held   bool
	at     float64 // fraction of the scale at which the line stands, unrounded
	lastX  float32
	moved  bool
	opened part // the part that was pressed
}

// finer is how many times finer everything moves while Shift is held.
const finer = 10

// MouseDown takes hold of the scale; away from the index line, the line comes
// to the pointer.
func (r *Ruler) MouseDown(ev *desktop.MouseEvent) {
	if ev.Button != desktop.MouseButtonPrimary {
		return
	}
	g := r.geometry()
	where := g.at(float64(ev.Position.X), float64(ev.Position.Y), r.of.other() != "")
	if r.onCausesWord(g, ev.Position) || r.causeAt(g, ev.Position) >= 0 {
		where = theCords
	}
	r.grip = grip{opened: where, lastX: ev.Position.X}
	if where != theValue || !r.typing {
		r.focus()
	}
	if where != theScale {
		return
	}
	r.grip.held = true
	r.session.Settle()
	s := r.of.scale()
	r.grip.at = s.Fraction(r.of.setting().Value)
	if away := float64(ev.Position.X) - g.x(r.grip.at); away < -0.6*g.em || away > 0.6*g.em {
		r.grip.at = g.fraction(float64(ev.Position.X))
		r.put()
	}
}

// MouseUp ends a drag, or opens what was clicked.
func (r *Ruler) MouseUp(ev *desktop.MouseEvent) {
	opened, moved := r.grip.opened, r.grip.moved
	r.letGo()
	if moved || ev.Button != desktop.MouseButtonPrimary {
		return
	}
	switch opened {
	case theValue:
		if !r.typing {
			r.Type("")
		}
	case theUnit:
		r.of.turn()
	case theCords:
		g := r.geometry()
		if n := r.causeAt(g, ev.Position); n >= 0 {
			r.chooseCause(n)
		} else if r.onCausesWord(g, ev.Position) {
			r.Unfold()
		}
	}
}

// Dragged moves the index line with the pointer, a tenth as far with Shift.
func (r *Ruler) Dragged(ev *fyne.DragEvent) {
	if !r.grip.held {
		return
	}
	r.grip.moved = true
	way := float64(ev.Position.X-r.grip.lastX) / r.geometry().scaleWidth()
	r.grip.lastX = ev.Position.X
	if shift() {
		way /= finer
	}
	// Beyond an end the line waits for the pointer to come back to it.
	r.grip.at += way
	r.put()
}

// DragEnd ends a drag: it was one edit.
func (r *Ruler) DragEnd() { r.letGo() }

func (r *Ruler) letGo() {
	r.session.Settle()
	moved := r.grip.moved
	r.grip = grip{moved: moved}
}

// put sets the value at which the grip stands.
func (r *Ruler) put() {
	s := r.of.scale()
	v := s.At(r.grip.at)
	if s.Taper == patch.Stepped {
		r.of.write(patch.Setting{Value: v, Unit: s.Unit})
		return
	}
	r.of.write(rounded(v, s))
}

// DoubleTapped puts the control back to its default.
func (r *Ruler) DoubleTapped(ev *fyne.PointEvent) {
	if r.geometry().at(float64(ev.Position.X), float64(ev.Position.Y), r.of.other() != "") != theScale {
		return
	}
	r.session.Settle()
	r.of.reset()
}

// Wheel moves the index line where the pointer is over the scale; false
// elsewhere.
func (r *Ruler) Wheel(ev *fyne.ScrollEvent) bool {
	g := r.geometry()
	if g.at(float64(ev.Position.X), float64(ev.Position.Y), false) != theScale {
		return false
	}
	// With Shift some drivers turn the wheel sideways.
	way := float64(ev.Scrolled.DY + ev.Scrolled.DX)
	if way != 0 {
		r.step(way / notch)
	}
	return true
}

// notch is what one notch of a wheel scrolls in fyne's units.
const notch = 10

// step moves the line by hundredths of the ruler.
func (r *Ruler) step(steps float64) {
	if shift() {
		steps /= finer
	}
	r.of.write(moved(r.of.setting().Value, r.of.scale(), steps))
}

// TypedKey moves the line: arrows by a hundredth of the ruler (with Shift by a
// thousandth), Page Up and Page Down by a tenth. Home is the default, Enter
// opens the value, with Shift it unfolds what moves the control.
func (r *Ruler) TypedKey(ev *fyne.KeyEvent) {
	switch ev.Name {
	case fyne.KeyRight, fyne.KeyUp:
		r.step(1)
	case fyne.KeyLeft, fyne.KeyDown:
		r.step(-1)
	case fyne.KeyPageUp:
		r.step(10)
	case fyne.KeyPageDown:
		r.step(-10)
	case fyne.KeyHome:
		r.session.Settle()
		r.of.reset()
	case fyne.KeyReturn, fyne.KeyEnter:
		if shift() {
			r.Unfold()
			return
		}
		r.Type("")
	case fyne.KeyF2:
		r.Type("")
	default:
		leaf.PassKey(r, ev)
	}
}

// TypedShortcut turns to other rulers with Control and the page keys; all else
// goes to the window.
func (r *Ruler) TypedShortcut(sc fyne.Shortcut) {
	c, ok := sc.(*desktop.CustomShortcut)
	if ok && r.OnTurn != nil && c.Modifier == fyne.KeyModifierShortcutDefault {
		switch c.KeyName {
		case fyne.KeyPageDown:
			r.OnTurn(1)
			return
		case fyne.KeyPageUp:
			r.OnTurn(-1)
			return
		}
	}
	if w, ok := fyne.CurrentApp().Driver().CanvasForObject(r).(fyne.Shortcutable); ok {
		w.TypedShortcut(sc)
	}
}

// TypedRune begins to type a number.
func (r *Ruler) TypedRune(c rune) {
	if c >= '0' && c <= '9' || c == '-' || c == '+' || c == '.' || c == '−' {
		r.Type(string(c))
	}
}

// KeyDown passes on what a ruler has no use for.
func (r *Ruler) KeyDown(ev *fyne.KeyEvent) { r.pass(ev, true) }

// KeyUp passes on what a ruler has no use for, and ends a row of steps.
func (r *Ruler) KeyUp(ev *fyne.KeyEvent) {
	switch ev.Name {
	case fyne.KeyRight, fyne.KeyUp, fyne.KeyLeft, fyne.KeyDown, fyne.KeyPageUp, fyne.KeyPageDown:
		r.session.Settle()
	}
	r.pass(ev, false)
}

func (r *Ruler) pass(ev *fyne.KeyEvent, down bool) {
	switch {
	case figureKey(ev.Name):
	case r.OnKey != nil:
		r.OnKey(ev, down)
	case down:
		leaf.PassDown(r, ev)
	default:
		leaf.PassUp(r, ev)
	}
}

// figureKey tells whether a key begins to type a number.
func figureKey(name fyne.KeyName) bool {
	return len(name) == 1 && (name[0] >= '0' && name[0] <= '9' || name == fyne.KeyMinus || name == fyne.KeyPeriod)
}

// FocusGained is fyne's.
func (r *Ruler) FocusGained() {
	r.focused = true
	if r.OnFocus != nil && !r.grip.held && r.grip.opened == nothing {
		r.OnFocus()
	}
	r.explain(r.of.help())
	r.Refresh()
}

// FocusLost is fyne's.
func (r *Ruler) FocusLost() {
	r.focused = false
	r.session.Settle()
	r.explain("")
	r.Refresh()
}

func (r *Ruler) focus() {
	if c := fyne.CurrentApp().Driver().CanvasForObject(r); c != nil {
		c.Focus(r)
	}
}

// MouseIn explains the control.
func (r *Ruler) MouseIn(*desktop.MouseEvent) { r.explain(r.of.help()) }

// MouseMoved explains what lies under the pointer.
func (r *Ruler) MouseMoved(ev *desktop.MouseEvent) {
	g := r.geometry()
	switch {
	case r.causeAt(g, ev.Position) >= 0:
		r.explain(causesHelp)
	case r.onCausesWord(g, ev.Position):
		r.explain(foldHelp)
	default:
		r.explain(r.of.help())
	}
}

// MouseOut ends the explanation.
func (r *Ruler) MouseOut() { r.explain("") }

func (r *Ruler) explain(help string) {
	if r.OnExplain != nil {
		r.OnExplain(help)
	}
}

// Cursor is fyne's.
func (r *Ruler) Cursor() desktop.Cursor { return desktop.DefaultCursor }

// shift tells whether Shift is held now. Tests put another hand on the keys.
var shift = func() bool {
	d, ok := fyne.CurrentApp().Driver().(desktop.Driver)
	return ok && d.CurrentKeyModifiers()&fyne.KeyModifierShift != 0
}
