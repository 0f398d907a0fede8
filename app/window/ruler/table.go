package ruler

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"

	"lampblack/app/desk"
	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
	"lampblack/patch"
)

// Table shows the rows that a module reads besides its controls, and lets them
// be drawn: a bar a row, a curve through points in time, or points on a line.
// It draws from the session; while a stroke of the mouse goes on it draws the
// stroke, which the session hears as often as a graph can be made (see hold).
type Table struct {
	leaf.Leaf
	leaf.Ends
	session *desk.Session
	module  string

	// OnExplain is called with what can be done here when the pointer or the
	// keyboard comes, and with "" when it goes; OnFocus when the keyboard comes.
	// They may be nil.
	OnExplain func(help string)
	OnFocus   func()

	height  float32
	row     int // the chosen one
	stroke  stroke
	plot    plot
	picture *canvas.Raster
	field   *field
	typing  int           // the column that is typed, -1 for none
	at      fyne.Position // where the mouse was pressed last
	message string
	now     func() time.Time
}

// NewTable returns the table of a module, which must have one.
func NewTable(s *desk.Session, module string) *Table {
	t := &Table{session: s, module: module, typing: -1, height: 10 * look.Em(), now: time.Now}
	t.picture = look.NewRaster(nil)
	t.picture.Generator = t.paint
	t.field = newField(t.take, t.drop, t.leave)
	t.Write, t.Key, t.Focus = t.write, t.key, t.focused
	t.Least = func() fyne.Size { return fyne.NewSize(20*look.Em(), t.height) }
	t.Extend(t)
	t.Until(s.Watch(desk.Patch, t.Refresh))
	t.Until(look.Live.Watch(t.beat))
	return t
}

// kind returns the kind of the module with its table; ok is false between an
// edit and the panel's rebuilding, when the module may be gone.
func (t *Table) kind() (k *patch.Kind, ok bool) {
	k = t.session.Kind(t.module)
	return k, k != nil && k.Table != nil
}

// Rows returns the rows that are seen: those of the stroke that goes on, or the
// module's. They must not be changed.
func (t *Table) Rows() [][]float64 {
	if t.stroke.rows != nil {
		return t.stroke.rows
	}
	if k, ok := t.kind(); ok {
		return t.session.Patch().Module(t.module).RowsFor(k)
	}
	return nil
}

// Row returns the number of the chosen row, from 0 on.
func (t *Table) Row() int { return min(max(t.row, 0), max(len(t.Rows())-1, 0)) }

// Message returns why what was typed was not taken, "" if it was.
func (t *Table) Message() string { return t.message }

// copied returns rows that may be changed.
func copied(rows [][]float64) [][]float64 {
	to := make([][]float64, len(rows))
	for i, row := range rows {
		to[i] = slices.Clone(row)
	}
	return to
}

// tableHead is the height of the line over the drawing, in ems.
const tableHead = 2.1

func (t *Table) write(p *leaf.Pen) {
	k, ok := t.kind()
	if !ok {
		return
	}
	em := p.Em
	all := p.Place("drawing", 0, tableHead*em, p.Width, max(p.Height-tableHead*em, 0))
	all.Down, all.Drag, all.Up, all.Double = t.down, t.drag, t.up, t.double
	all.Unmarked, all.Unlisted = true, true
	t.plot = t.lay(k, p)
	t.plot.ruling(p)
	t.picture.Refresh()
	p.Put(t.picture, t.plot.x0-t.plot.margin, t.plot.y0-t.plot.margin, t.plot.width()+2*t.plot.margin, t.plot.height()+2*t.plot.margin)
	t.writeHead(p, k)
	if t.Focused() {
		p.Box(0, tableHead*em, 2, p.Height-tableHead*em, p.Ink.Drawn, nil)
	}
	t.writeMessage(p)
}

// writeHead writes how many rows there are, and the numbers of the chosen one:
// each can be clicked and typed.
func (t *Table) writeHead(p *leaf.Pen, k *patch.Kind) {
	em, base := p.Em, 1.4*p.Em
	rows := t.Rows()
	const again = "as at first"
	end := p.Width - 1.2*em
	if m := t.session.Patch().Module(t.module); m.Rows != nil {
		end -= p.Wide(look.Quiet, again)
		word, _ := p.Word("reset", look.Quiet, end, base, again)
		word.Tap = t.reset
		end -= em
	}
	x := p.Text(look.Quiet, 0.5*em, base, fmt.Sprintf("%s %d of %d", strings.TrimSuffix(k.Table.Name, "s"), t.Row()+1, len(rows))) + 0.9*em
	for _, w := range []struct {
		name, sign string
		do         func()
	}{{"fewer", "−", t.Remove}, {"more", "+", t.Add}} {
		p.Text(look.Body, x, base, w.sign)
		place := p.Place(w.name, x-0.35*em, base-1.15*em, 1.3*em, 1.6*em)
		place.Tap, place.Unlisted = w.do, true
		x += 1.3 * em
	}
	x += 0.6 * em
	if len(rows) == 0 {
		return
	}
	for i := range k.Table.Columns {
		if x = t.writeCell(p, k.Table, i, x, base, end); x >= end {
			return
		}
	}
}

// writeCell writes a number of the chosen row and returns where the next one
// may begin.
func (t *Table) writeCell(p *leaf.Pen, table *patch.Table, column int, x, base, end float32) float32 {
	c, em := &table.Columns[column], p.Em
	text := look.Shown(written(c, t.Rows()[t.Row()][column]))
	name := p.Wide(look.Quiet, c.Name)
	wide := max(p.Wide(look.Figures, text), 2.6*em)
	if x+name+0.5*em+wide > end {
		return end
	}
	x = p.Text(look.Quiet, x, base, c.Name) + 0.5*em
	if t.typing == column {
		size := t.field.MinSize()
		p.Put(t.field, x-0.4*em, base-size.Height*0.66, max(wide, 6*em), size.Height)
		return x + max(wide, 6*em) + 0.6*em
	}
	place, _ := p.Word("cell "+c.Name, look.Figures, x, base, text)
	place.Tap, place.Unlisted = func() { t.Type(column, "") }, true
	return x + wide + 0.9*em
}

// writeMessage says over the drawing why what was typed was not taken.
func (t *Table) writeMessage(p *leaf.Pen) {
	if t.message == "" {
		return
	}
	em, line := p.Em, look.Quiet.Height()
	lines := look.Quiet.Wrap(t.message, p.Width-3*em)
	p.Box(0.5*em, tableHead*em, p.Width-1.7*em, float32(len(lines))*line+0.6*em, p.Ink.Block, p.Ink.Line)
	for i, text := range lines {
		p.Tinted(look.Quiet, p.Ink.Drawn, 1.1*em, tableHead*em+0.3*em+float32(i)*line+0.8*line, text)
	}
}

// written writes a number of a column as it is read: an interval of a scale in
// cents, all else in the column's unit.
func written(c *patch.Column, v float64) string {
	if inCents(c) {
		return patch.FormatValue(v*1200, "cents")
	}
	return patch.Setting{Value: v, Unit: c.Scale.Unit}.String()
}

// inCents tells whether a column holds intervals within an octave or two.
func inCents(c *patch.Column) bool { return c.Scale.Unit == "oct" && c.Scale.Max-c.Scale.Min <= 2 }

// hint says what can be done with the drawing.
func (t *Table) hint() string {
	k, ok := t.kind()
	if !ok {
		return ""
	}
	switch k.Table.Drawn {
	case patch.DrawnBars:
		return "Draw across the bars; arrows change, figures type."
	case patch.DrawnPoints:
		return "Drag points; double-click adds, Delete removes."
	}
	return "Drag points, bend lines; double-click adds a point."
}

func (t *Table) focused(on bool) {
	if on {
		if t.OnFocus != nil && !t.Pressed() {
			t.OnFocus()
		}
		t.explain(t.hint())
		return
	}
	t.session.Settle()
	t.explain("")
}

func (t *Table) explain(help string) {
	if t.OnExplain != nil {
		t.OnExplain(help)
	}
}
