package leaf

import (
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

// doubleTime is the time within which a second press makes a double one.
const doubleTime = 400 * time.Millisecond

// doubleReach is how far apart the two presses may be, in fyne's units.
const doubleReach = 4

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
	if first := l.place(l.lastName); first != nil && first.Double != nil && l.isSecond(x, y) {
		p = first // even if the first press has moved it: a double press is one gesture
	}
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
	x, y := e.Position.X, e.Position.Y
	second := l.lastName == name && l.isSecond(x, y)
	inside := p.holds(x, y) || second && double != nil
	if p.Up != nil {
		p.Up()
	}
	if !inside {
		return
	}
	l.lastName, l.lastTime, l.lastX, l.lastY = name, time.Now(), x, y
	if second && double != nil {
		l.lastName = ""
		double()
		return
	}
	if tap != nil {
		tap()
	}
}

// isSecond tells whether a press follows the last one so soon and so near that
// the two are one.
func (l *Leaf) isSecond(x, y float32) bool {
	near := max(x-l.lastX, l.lastX-x, y-l.lastY, l.lastY-y) <= doubleReach
	return near && time.Since(l.lastTime) < doubleTime
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
