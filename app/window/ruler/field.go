package ruler

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// field is the entry in which a value is typed: Enter takes it, Escape puts
// back what was there.
type field struct {
	widget.Entry
	take, drop, left func()
}

func newField(take, drop, left func()) *field {
	f := &field{take: take, drop: drop, left: left}
	f.Wrapping = fyne.TextWrapOff
	f.Scroll = fyne.ScrollNone
	f.ExtendBaseWidget(f)
	return f
}

// TypedKey is fyne's.
func (f *field) TypedKey(ev *fyne.KeyEvent) {
	switch ev.Name {
	case fyne.KeyReturn, fyne.KeyEnter:
		f.take()
	case fyne.KeyEscape:
		f.drop()
	default:
		f.Entry.TypedKey(ev)
	}
}

// FocusLost is fyne's.
func (f *field) FocusLost() {
	f.Entry.FocusLost()
	f.left()
}
