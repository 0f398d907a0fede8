// Package leaf is a piece of the page that is written anew whenever it changes.
//
//	session changes -> Refresh -> Write(pen) -> words, hairlines, places to press
//
// A view gives one function that writes the whole leaf from the session. The
// places that it marks can be pressed with the mouse and reached with the
// keyboard: Tab comes to the leaf, arrow keys go from place to place, Enter
// presses. Keys that a leaf does not need go on to the window, so that notes
// can be played wherever the keyboard is. It knows no session.
//
// Held by tests: every place can be pressed by mouse and by keyboard, and no
// key is lost.
package leaf

import (
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
)

// Leaf is a widget. Make it with New.
type Leaf struct {
	widget.BaseWidget
	Write func(p *Pen)                      // writes everything that is seen
	Least func() fyne.Size                  // the least room it needs; nil is none
	Key   func(k fyne.KeyName) bool         // takes a key before the leaf does; false passes it on
	Blank func(x, y float32)                // pressed where no place is
	Focus func(on bool)                     // the keyboard came or went; may be nil
	Moved func(x, y float32) desktop.Cursor // the mouse moved; tells its form; may be nil

	outer        fyne.CanvasObject // what fyne knows, if it embeds the leaf
	pen          Pen
	hovered      string
	current      string // the place that the keyboard is at
	byKey        bool   // the keyboard brought the focus: show where it is
	focused      bool
	pressed      string
	pressedX     float32
	pressedY     float32
	lastTime     time.Time
	lastName     string
	lastX, lastY float32
	cursor       desktop.Cursor
}

// New returns a leaf that write fills.
func New(write func(p *Pen)) *Leaf {
	l := &Leaf{Write: write}
	l.ExtendBaseWidget(l)
	return l
}

// Extend tells fyne and the leaf which widget embeds it. A widget that embeds a
// Leaf calls it before anything else.
func (l *Leaf) Extend(outer fyne.Widget) {
	l.outer = outer
	l.ExtendBaseWidget(outer)
}

// CreateRenderer is fyne's.
func (l *Leaf) CreateRenderer() fyne.WidgetRenderer {
	return &renderer{leaf: l}
}

// Names returns the names of the places on the leaf, in the order of writing.
func (l *Leaf) Names() []string {
	var names []string
	for i := range l.pen.places {
		names = append(names, l.pen.places[i].Name)
	}
	return names
}

// ByMouse returns the names of the places that answer and that arrow keys pass
// over: each needs another key.
func (l *Leaf) ByMouse() []string {
	var names []string
	for i := range l.pen.places {
		if p := &l.pen.places[i]; p.answers() && p.Unlisted {
			names = append(names, p.Name)
		}
	}
	return names
}

// ByKey returns the names of the places that arrow keys come to.
func (l *Leaf) ByKey() []string {
	var names []string
	for i := range l.pen.places {
		if p := &l.pen.places[i]; p.answers() && !p.Unlisted {
			names = append(names, p.Name)
		}
	}
	return names
}

// Focused tells whether the leaf has the keyboard.
func (l *Leaf) Focused() bool { return l.focused }

// place returns the place of that name, or nil.
func (l *Leaf) place(name string) *Place {
	for i := range l.pen.places {
		if l.pen.places[i].Name == name && name != "" {
			return &l.pen.places[i]
		}
	}
	return nil
}

// under returns the topmost place at a point, or nil.
func (l *Leaf) under(x, y float32) *Place {
	for i := len(l.pen.places) - 1; i >= 0; i-- {
		if l.pen.places[i].holds(x, y) {
			return &l.pen.places[i]
		}
	}
	return nil
}

type renderer struct {
	leaf *Leaf
	size fyne.Size
}

func (r *renderer) Layout(size fyne.Size) {
	if size != r.size {
		r.size = size
		r.write()
	}
}

func (r *renderer) MinSize() fyne.Size {
	if r.leaf.Least == nil {
		return fyne.NewSize(1, 1)
	}
	return r.leaf.Least()
}

func (r *renderer) Refresh() {
	r.write()
	canvas.Refresh(r.leaf.self()) // fyne knows the widget that embeds the leaf
}

func (r *renderer) write() {
	l := r.leaf
	l.pen.begin(r.size)
	if r.size.Width > 0 && r.size.Height > 0 {
		l.Write(&l.pen)
		l.mark()
	}
	l.pen.end()
}

// mark shows the place under the mouse and the one that the keyboard is at.
func (l *Leaf) mark() {
	if p := l.place(l.hovered); p != nil && p.answers() && !p.Unmarked {
		l.pen.Level(p.X, p.Y+p.Height-1, p.Width, l.pen.Ink.Line)
	}
	if p := l.place(l.current); p != nil && !p.Unlisted && l.focused && l.byKey {
		l.pen.Box(p.X-3, p.Y, p.Width+6, p.Height, nil, l.pen.Ink.Line)
	}
}

func (r *renderer) Objects() []fyne.CanvasObject { return r.leaf.pen.objects }
func (r *renderer) Destroy()                     {}
