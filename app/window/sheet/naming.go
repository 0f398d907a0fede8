package sheet

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"lampblack/app/desk"
	"lampblack/app/window/look"
)

// nameField is where a module's name is written anew, in its place on the
// block. Enter and leaving take the name, Escape keeps the old one.
type nameField struct {
	widget.Entry
	sheet  *Sheet
	module string
	ground *canvas.Rectangle
	done   bool
}

// rename opens the name of a module.
func (s *Sheet) rename(module string) {
	if s.layout.block(module) == nil {
		return
	}
	f := &nameField{sheet: s, module: module, ground: &canvas.Rectangle{StrokeWidth: 1}}
	f.Scroll = fyne.ScrollNone
	f.Wrapping = fyne.TextWrapOff
	f.ExtendBaseWidget(f)
	f.SetText(module)
	s.naming = f
	s.bring(module)
	if c := fyne.CurrentApp().Driver().CanvasForObject(s); c != nil {
		c.Focus(f)
	}
	f.TypedShortcut(&fyne.ShortcutSelectAll{})
}

// place lays the field over the name of its block, readable at any zoom.
func (f *nameField) place(s *Sheet) {
	b := s.layout.block(f.module)
	if b == nil {
		return
	}
	size := f.MinSize()
	middle := s.view.at(Point{X: b.box.X0 + nameX, Y: b.box.Y0 + 16})
	right := s.view.at(Point{X: b.box.X1, Y: 0})
	size.Width = max(right.X-middle.X, 8*look.Em())
	at := middle.SubtractXY(0.5*look.Em(), size.Height/2)
	f.Move(at)
	f.Resize(size)
	f.ground.FillColor, f.ground.StrokeColor = look.Now().Ground, look.Now().Line
	f.ground.Move(at)
	f.ground.Resize(size)
}

// TypedKey is fyne's.
func (f *nameField) TypedKey(ev *fyne.KeyEvent) {
	switch ev.Name {
	case fyne.KeyReturn, fyne.KeyEnter:
		f.end(true)
		f.sheet.focus()
	case fyne.KeyEscape:
		f.end(false)
		f.sheet.focus()
	default:
		f.Entry.TypedKey(ev)
	}
}

// FocusLost is fyne's.
func (f *nameField) FocusLost() {
	f.Entry.FocusLost()
	f.end(true)
}

// end closes the field. A name that is refused is told on the top line, and the
// module keeps the one that it has.
func (f *nameField) end(take bool) {
	if f.done {
		return
	}
	f.done = true
	s := f.sheet
	s.naming = nil
	name := strings.TrimSpace(f.Text)
	if take && name != f.module && name != "" {
		s.session.Settle()
		chosen := s.session.Chosen()
		if s.session.Do(desk.RenameModule(f.module, name)) && chosen == f.module {
			s.session.Select(desk.Selection{Modules: []string{name}, Cord: -1, Note: -1})
		}
	}
	s.update()
}
