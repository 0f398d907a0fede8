package leaf

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

// Click presses the place of that name in its middle, as the mouse would. It is
// for tests and for stories told to the program; an unknown name is an error
// that lists the places there are.
func (l *Leaf) Click(name string) error { return l.click(name, 1) }

// DoubleClick presses it twice.
func (l *Leaf) DoubleClick(name string) error { return l.click(name, 2) }

func (l *Leaf) click(name string, times int) error {
	l.lastName = "" // an earlier press does not count
	p := l.place(name)
	if p == nil {
		return fmt.Errorf("leaf: no place %q; there are %q", name, l.Names())
	}
	at := &desktop.MouseEvent{Button: desktop.MouseButtonPrimary}
	at.Position = fyne.NewPos(p.X+p.Width/2, p.Y+p.Height/2)
	for range times { // at the same spot, as a hand does it
		l.MouseDown(at)
		l.MouseUp(at)
	}
	return nil
}

// Stand puts the keyboard's mark at a place, so that Enter presses it; it is
// shown where the keyboard is used. The place may be written later.
func (l *Leaf) Stand(name string) { l.current = name }

// Standing returns the place that the keyboard marks; "" while the mouse is
// used, or the keyboard is elsewhere.
func (l *Leaf) Standing() string {
	if l.focused && l.byKey {
		return l.current
	}
	return ""
}

// At returns the name of the place that the mouse is over, or else of the one
// that the keyboard is at; "" if there is none.
func (l *Leaf) At() string {
	if l.hovered != "" {
		return l.hovered
	}
	if l.focused {
		return l.current
	}
	return ""
}
