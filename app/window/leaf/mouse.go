package leaf

import (
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

// doubleTime is the time within which a second press makes a double one.
const doubleTime = 400 * time.Millisecond

var (
	_ desktop.Mouseable  = (*Leaf)(nil)
	_ desktop.Hoverable  = (*Leaf)(nil)
	_ desktop.Cursorable = (*Leaf)(nil)
	_ fyne.Draggable     = (*Leaf)(nil)
)

// MouseDown is fyne's.
func (l *Leaf) MouseDown(e *desktop.MouseEvent) {
	l.byKey = false
	x, y := e.Position.X, e.Position.Y
	l.pressed, l.pressedX, l.pressedY = "", x, y
	p := l.under(x, y)
	if p != nil {
		l.pressed = p.Name // before the keyboard comes: see Pressed
	}
	l.takeKeyboard()
	if p = l.place(l.pressed); p == nil {
		if l.Blank != nil {
			l.Blank(x, y)
		}
		return
	}
	l.current = p.Name
	if p.Down != nil {
		p.Down(x, y)
	}
}

// Pressed tells whether the mouse is down on a place. What comes with the
// keyboard must not move that place from under it.
func (l *Leaf) Pressed() bool { return l.pressed != "" }

// MouseUp is fyne's.
func (l *Leaf) MouseUp(e *desktop.MouseEvent) {
	p := l.place(l.pressed)
	l.pressed = ""
	if p == nil {
		return
	}
	name, tap, double := p.Name, p.Tap, p.Double
	inside := p.holds(e.Position.X, e.Position.Y)
	if p.Up != nil {
		p.Up()
	}
	if !inside {
		return
	}
	now := time.Now()
	second := l.lastName == name && now.Sub(l.lastTime) < doubleTime
	l.lastName, l.lastTime = name, now
	if second && double != nil {
		l.lastName = ""
		double()
		return
	}
	if tap != nil {
		tap()
	}
}

// Dragged is fyne's.
func (l *Leaf) Dragged(e *fyne.DragEvent) {
	if p := l.place(l.pressed); p != nil && p.Drag != nil {
		p.Drag(e.Position.X, e.Position.Y)
	}
}

// DragEnd is fyne's. MouseUp has come or comes as well; the place is told once.
func (l *Leaf) DragEnd() {}

// MouseIn is fyne's.
func (l *Leaf) MouseIn(e *desktop.MouseEvent) { l.MouseMoved(e) }

// MouseMoved is fyne's.
func (l *Leaf) MouseMoved(e *desktop.MouseEvent) {
	name, cursor := "", desktop.Cursor(desktop.DefaultCursor)
	if p := l.under(e.Position.X, e.Position.Y); p != nil {
		name = p.Name
		switch {
		case p.Cursor != nil:
			cursor = p.Cursor
		case p.answers():
			cursor = desktop.PointerCursor
		}
	}
	if l.Moved != nil {
		if c := l.Moved(e.Position.X, e.Position.Y); c != nil {
			cursor = c
		}
	}
	l.cursor = cursor
	l.hover(name)
}

// MouseOut is fyne's.
func (l *Leaf) MouseOut() { l.hover("") }

// Cursor is fyne's.
func (l *Leaf) Cursor() desktop.Cursor {
	if l.cursor == nil {
		return desktop.DefaultCursor
	}
	return l.cursor
}

func (l *Leaf) hover(name string) {
	if name == l.hovered {
		return
	}
	l.hovered = name
	l.Refresh()
}

// Scroll turns the wheel at a point; it reports false where nothing answers.
func (l *Leaf) Scroll(x, y, turned float32) bool {
	p := l.under(x, y)
	if p == nil || turned == 0 {
		return false
	}
	step := p.Step
	if step == nil {
		step = p.wheel
	}
	if step == nil {
		return false
	}
	if turned > 0 {
		step(1)
	} else {
		step(-1)
	}
	return true
}

// Turning is a leaf that also answers to the wheel of the mouse.
type Turning struct{ Leaf }

// NewTurning returns a leaf that write fills and that the wheel turns.
func NewTurning(write func(p *Pen)) *Turning {
	l := &Turning{Leaf{Write: write}}
	l.Extend(l)
	return l
}

// CreateRenderer is fyne's.
func (t *Turning) CreateRenderer() fyne.WidgetRenderer { return &renderer{leaf: &t.Leaf} }

// Scrolled is fyne's.
func (t *Turning) Scrolled(e *fyne.ScrollEvent) { t.Scroll(e.Position.X, e.Position.Y, e.Scrolled.DY) }
