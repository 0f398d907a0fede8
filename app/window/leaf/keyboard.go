package leaf

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

var (
	_ fyne.Focusable  = (*Leaf)(nil)
	_ desktop.Keyable = (*Leaf)(nil)
)

// FocusGained is fyne's.
func (l *Leaf) FocusGained() { l.focus(true) }

// FocusLost is fyne's.
func (l *Leaf) FocusLost() { l.focus(false) }

func (l *Leaf) focus(on bool) {
	l.focused = on
	if on && l.pressed == "" {
		l.byKey = true
	}
	if l.Focus != nil {
		l.Focus(on)
	}
	l.Refresh()
}

// takeKeyboard asks for the keyboard after a press of the mouse.
func (l *Leaf) takeKeyboard() {
	c := l.canvas()
	if c == nil || l.focused {
		return
	}
	if self, ok := l.self().(fyne.Focusable); ok {
		c.Focus(self)
		l.byKey = false
	}
}

// KeyDown is fyne's: the window hears every key, for notes are played with it.
func (l *Leaf) KeyDown(e *fyne.KeyEvent) { PassDown(l.self(), e) }

// KeyUp is fyne's.
func (l *Leaf) KeyUp(e *fyne.KeyEvent) { PassUp(l.self(), e) }

// TypedRune is fyne's.
func (l *Leaf) TypedRune(r rune) {
	if c := l.canvas(); c != nil && c.OnTypedRune() != nil {
		c.OnTypedRune()(r)
	}
}

// TypedKey is fyne's.
func (l *Leaf) TypedKey(e *fyne.KeyEvent) {
	if l.Key != nil && l.Key(e.Name) || l.walk(e.Name) {
		return
	}
	PassKey(l.self(), e)
}

// walk goes between places and works the one the keyboard is at.
func (l *Leaf) walk(k fyne.KeyName) bool {
	p := l.place(l.current)
	if p != nil && p.Keys[k] != nil {
		p.Keys[k]()
		return true
	}
	switch k {
	case fyne.KeyLeft:
		return l.neighbour(-1)
	case fyne.KeyRight:
		return l.neighbour(1)
	case fyne.KeyUp, fyne.KeyDown:
		return l.step(p, k)
	case fyne.KeyReturn, fyne.KeyEnter:
		if p == nil || p.Tap == nil && p.Double == nil {
			return false
		}
		if p.Double != nil {
			p.Double()
		} else {
			p.Tap()
		}
		return true
	}
	return false
}

func (l *Leaf) step(p *Place, k fyne.KeyName) bool {
	n := 1
	if k == fyne.KeyDown {
		n = -1
	}
	if p != nil && p.Step != nil {
		p.Step(n)
		return true
	}
	return l.neighbour(-n)
}

// neighbour moves the keyboard to the next place that is listed.
func (l *Leaf) neighbour(by int) bool {
	at, count := -1, len(l.pen.places)
	for i := range l.pen.places {
		if l.pen.places[i].Name == l.current {
			at = i
		}
	}
	if at < 0 && by < 0 {
		at = count
	}
	for i := at + by; i >= 0 && i < count; i += by {
		if p := &l.pen.places[i]; !p.Unlisted && p.answers() {
			l.current, l.byKey = p.Name, true
			l.Refresh()
			return true
		}
	}
	return false
}

// canvas returns the canvas that shows the leaf, or nil.
func (l *Leaf) canvas() fyne.Canvas { return canvasOf(l.self()) }

// self returns the widget that fyne knows: the leaf, or what embeds it.
func (l *Leaf) self() fyne.CanvasObject {
	if l.outer != nil {
		return l.outer
	}
	return l
}

func canvasOf(o fyne.CanvasObject) fyne.Canvas {
	return fyne.CurrentApp().Driver().CanvasForObject(o)
}

// PassDown gives a key that went down to the window. A view that has the
// keyboard and is no leaf calls it from its KeyDown, so that notes can be
// played.
func PassDown(o fyne.CanvasObject, e *fyne.KeyEvent) {
	if c, ok := canvasOf(o).(desktop.Canvas); ok && c.OnKeyDown() != nil {
		c.OnKeyDown()(e)
	}
}

// PassUp gives a key that went up to the window.
func PassUp(o fyne.CanvasObject, e *fyne.KeyEvent) {
	if c, ok := canvasOf(o).(desktop.Canvas); ok && c.OnKeyUp() != nil {
		c.OnKeyUp()(e)
	}
}

// PassKey gives a key that a view does not need to the window.
func PassKey(o fyne.CanvasObject, e *fyne.KeyEvent) {
	if c := canvasOf(o); c != nil && c.OnTypedKey() != nil {
		c.OnTypedKey()(e)
	}
}
