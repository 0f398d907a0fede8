package sheet

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
)

// item is one line of a list: what can be added or joined.
type item struct {
	head   string // under which heading it stands, "" under none
	name   string
	detail string
	words  string // what typing is compared with, besides the name
	why    string // why it can't be taken, "" if it can
	take   func()
}

// list is opened in place on the sheet: typing narrows it, arrows go through
// it, Tab goes to the next heading, Enter takes, Escape closes.
type list struct {
	widget.Entry
	sheet  *Sheet
	title  string
	items  []item
	shown  []item
	rows   []listRow // what is seen of it: headings, and what stands under them
	at     int       // in shown
	first  int       // the topmost row that is seen
	full   int       // how many rows there are while nothing is typed: the list does not shrink
	names  float32   // from where on details are written, in ems
	corner fyne.Position
	size   fyne.Size
	ground *canvas.Rectangle
	leaf   *leaf.Leaf
	closed bool
}

// listRow is one row of a list: a heading, which can't be taken, or an item.
type listRow struct {
	head string // "" for an item
	item int    // in shown; of a heading the first one under it
}

// Measures of a list, in ems.
const (
	listWidth = 44
	listLine  = 1.65
	listLines = 18
	listHead  = 4.4
	listIndex = 9.6 // the headings at the left, to go to them at once
)

// mostHeads is how many headings are listed at the left; more would hide each
// other.
const mostHeads = 10

func (s *Sheet) openList(title, hint string, at fyne.Position, items []item) {
	l := &list{sheet: s, title: title, items: items, corner: at, ground: &canvas.Rectangle{StrokeWidth: 1}}
	l.Scroll, l.Wrapping, l.PlaceHolder = fyne.ScrollNone, fyne.TextWrapOff, hint
	l.leaf = leaf.New(l.write)
	l.ExtendBaseWidget(l)
	l.OnChanged = l.narrow
	s.list = l
	l.put(items)
	l.full, l.names = len(l.rows), namesRoom(items)
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
	lines := min(float32(listLines), float32(l.full), (room-listHead*em)/(listLine*em))
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
	case fyne.KeyTab:
		l.stepHead(shifted())
	case fyne.KeyReturn, fyne.KeyEnter:
		l.take()
	case fyne.KeyEscape:
		l.sheet.closeList()
	default:
		l.Entry.TypedKey(ev)
	}
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

// AcceptsTab lets Tab go from heading to heading; no list is left behind open.
func (l *list) AcceptsTab() bool { return true }

// namesRoom is how many ems the names of a list take, so that what explains
// them stands in a column.
func namesRoom(items []item) float32 {
	room := float32(6)
	for _, it := range items {
		room = max(room, look.Body.Measure(it.name).Width/look.Em())
	}
	return min(room+3, 16)
}
