package sheet

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
)

// item is one line of a list: what can be added or joined.
type item struct {
	name   string
	detail string
	words  string // what typing is compared with, besides the name
	why    string // why it can't be taken, "" if it can
	take   func()
}

// list is opened in place on the sheet: typing narrows it, arrows go through
// it, Enter takes, Escape closes.
type list struct {
	widget.Entry
	sheet  *Sheet
	title  string
	items  []item
	shown  []item
	at     int // in shown
	first  int // the topmost line that is seen
	corner fyne.Position
	size   fyne.Size
	ground *canvas.Rectangle
	leaf   *leaf.Leaf
	closed bool
}

// Measures of a list, in ems.
const (
	listWidth = 42
	listLine  = 1.75
	listLines = 11
	listHead  = 4.6
)

func (s *Sheet) openList(title, hint string, at fyne.Position, items []item) {
	l := &list{sheet: s, title: title, items: items, shown: items, corner: at, ground: &canvas.Rectangle{StrokeWidth: 1}}
	l.Scroll, l.Wrapping, l.PlaceHolder = fyne.ScrollNone, fyne.TextWrapOff, hint
	l.leaf = leaf.New(l.write)
	l.ExtendBaseWidget(l)
	l.OnChanged = l.narrow
	s.list = l
	s.update()
	if c := fyne.CurrentApp().Driver().CanvasForObject(s); c != nil {
		c.Focus(l)
	}
}

// closeList puts the list away and gives the keyboard back to the sheet.
func (s *Sheet) closeList() {
	if s.list == nil || s.list.closed {
		return
	}
	s.list.closed = true
	s.list = nil
	s.update()
	s.focus()
}

func (l *list) objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{l.ground, l.leaf, l}
}

// place lays the list at its corner, or as near to it as there is room.
func (l *list) place(s *Sheet) {
	em, view := look.Em(), s.view
	room := view.size.Height - float32(view.top) - 0.5*em
	lines := min(float32(listLines), float32(len(l.shown)), (room-listHead*em)/(listLine*em))
	l.size = fyne.NewSize(min(listWidth*em, view.size.Width-em), (listHead+max(lines, 1)*listLine)*em)
	x := min(max(l.corner.X, 0.5*em), view.size.Width-l.size.Width-0.5*em)
	y := min(max(l.corner.Y, float32(view.top)), view.size.Height-l.size.Height-0.5*em)
	at := fyne.NewPos(x, y)
	l.ground.FillColor, l.ground.StrokeColor = look.Now().Block, look.Now().Drawn
	l.ground.Move(at)
	l.ground.Resize(l.size)
	l.leaf.Move(at)
	l.leaf.Resize(l.size)
	height := l.Entry.MinSize().Height
	l.Move(at.AddXY(0.5*em, 1.9*em))
	l.Resize(fyne.NewSize(l.size.Width-em, height))
}

func (l *list) holds(pos fyne.Position) bool {
	at := l.ground.Position()
	return pos.X >= at.X && pos.X < at.X+l.size.Width && pos.Y >= at.Y && pos.Y < at.Y+l.size.Height
}

func (l *list) lines() int {
	return int((l.size.Height/look.Em() - listHead) / listLine)
}

// write sets the title and the lines.
func (l *list) write(p *leaf.Pen) {
	em := p.Em
	p.Text(look.Caps, em, 1.4*em, l.title)
	if len(l.shown) == 0 {
		p.Text(look.Quiet, em, (listHead+1)*em, "nothing is called that")
	}
	for i := range l.lines() {
		n := l.first + i
		if n >= len(l.shown) {
			return
		}
		it := l.shown[n]
		y := (listHead - 0.3 + float32(i)*listLine) * em
		if n == l.at {
			p.Box(1, y, p.Width-2, listLine*em, p.Ink.Wash, nil)
		}
		colour := p.Ink.Drawn
		if it.why != "" {
			colour = p.Ink.Quiet
		}
		end := p.Tinted(look.Body, colour, em, y+1.2*em, look.Body.Fit(it.name, p.Width-2*em, 1))
		detail := it.detail
		if it.why != "" {
			detail = it.why
		}
		x := max(end+em, 10*em)
		p.Fit(look.Quiet, x, y+1.2*em, p.Width-x-em, look.Shown(detail))
		place := p.Place(it.name, 0, y, p.Width, listLine*em)
		place.Unmarked, place.Unlisted = true, true
		place.Tap = func() {
			l.at = n
			l.take()
		}
	}
}

// narrow shows the items in which every word that is typed occurs; those whose
// name begins with it come first.
func (l *list) narrow(typed string) {
	words := strings.Fields(strings.ToLower(typed))
	var begin, rest []item
	for _, it := range l.items {
		name := strings.ToLower(it.name)
		all := name + " " + strings.ToLower(it.words)
		hit := true
		for _, w := range words {
			hit = hit && strings.Contains(all, w)
		}
		switch {
		case !hit:
		case len(words) > 0 && strings.HasPrefix(name, words[0]):
			begin = append(begin, it)
		default:
			rest = append(rest, it)
		}
	}
	l.shown, l.at, l.first = append(begin, rest...), 0, 0
	l.sheet.update()
	l.leaf.Refresh()
}

// TypedKey is fyne's.
func (l *list) TypedKey(ev *fyne.KeyEvent) {
	switch ev.Name {
	case fyne.KeyDown:
		l.step(1)
	case fyne.KeyUp:
		l.step(-1)
	case fyne.KeyPageDown:
		l.step(l.lines())
	case fyne.KeyPageUp:
		l.step(-l.lines())
	case fyne.KeyReturn, fyne.KeyEnter:
		l.take()
	case fyne.KeyEscape:
		l.sheet.closeList()
	default:
		l.Entry.TypedKey(ev)
	}
}

func (l *list) step(by int) {
	l.at = min(max(l.at+by, 0), max(len(l.shown)-1, 0))
	l.first = min(max(l.first, l.at-l.lines()+1), l.at)
	l.leaf.Refresh()
}

func (l *list) scroll(dy float32) {
	l.first = min(max(l.first-int(dy/10), 0), max(len(l.shown)-l.lines(), 0))
	l.leaf.Refresh()
}

// take takes the chosen line. One that can't be taken stays, with its reason
// beside it.
func (l *list) take() {
	if l.at >= len(l.shown) || l.shown[l.at].why != "" {
		return
	}
	it := l.shown[l.at]
	l.sheet.closeList()
	it.take()
}

// AcceptsTab keeps Tab from leaving an open list behind.
func (l *list) AcceptsTab() bool { return true }
