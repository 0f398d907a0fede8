package ruler

import (
	"math"
	"slices"
	"time"

	"fyne.io/fyne/v2/driver/desktop"

	"lampblack/app/desk"
	"lampblack/patch"
)

// stroke is what the mouse draws from a press to its release: one step of undo.
type stroke struct {
	rows   [][]float64 // as drawn so far; nil while nothing is drawn
	row    int         // the point that is dragged, or the segment that is bent
	bends  bool
	x, y   float32 // where the mouse was last
	span   float64 // of a curve, as it was at the press: the paper must not stretch under the hand
	told   time.Time
	untold bool // the session has not heard the last of it
}

// hold is the least time between two edits of a stroke. Each makes a new graph
// that is faded to; 20 a second are heard as one movement.
const hold = 50 * time.Millisecond

// reachOfPoint is how near to a point a press takes hold of it, in ems.
const reachOfPoint = 0.8

// down takes hold of a bar, a point or a segment.
func (t *Table) down(x, y float32) {
	g := &t.plot
	row, away := g.near(x, y)
	if row < 0 {
		return
	}
	t.session.Settle()
	s := stroke{rows: copied(t.Rows()), row: row, x: x, y: y, span: g.span}
	switch {
	case g.drawn == patch.DrawnBars:
		t.stroke, t.row = s, row
		t.across(x, y)
		return
	case away <= reachOfPoint*g.em:
		t.row = row
	case g.drawn == patch.DrawnCurve && t.onCurve(x, y):
		s.bends, s.row = true, g.segment(x)
		t.row = s.row
	default:
		return // the ground: a double click adds a point there
	}
	t.stroke = s
	t.Refresh()
}

// onCurve tells whether a press takes hold of the line of a curve.
func (t *Table) onCurve(x, y float32) bool {
	g := &t.plot
	i := g.segment(x)
	if i >= len(g.rows) || len(g.table.Columns) < 3 || g.rows[i][0] <= 0 {
		return false
	}
	at := (g.timeAt(x) - g.timeOf(i-1)) / g.rows[i][0]
	from := g.levelBefore(i)
	return math.Abs(float64(g.y(from+(g.rows[i][1]-from)*bent(g.curve(i), at))-y)) <= float64(reachOfPoint*g.em)
}

// drag goes on with a stroke.
func (t *Table) drag(x, y float32) {
	if t.stroke.rows == nil {
		return
	}
	switch g := &t.plot; {
	case g.drawn == patch.DrawnBars:
		t.across(x, y)
		return
	case t.stroke.bends:
		t.bend(y)
	case g.drawn == patch.DrawnPoints:
		t.stroke.rows[t.stroke.row][0] = t.place(float64((x - g.x0) / g.width()))
	default:
		t.movePoint(x, y)
	}
	t.stroke.x, t.stroke.y = x, y
	t.tell()
}

// place returns the interval at a fraction of the line, in whole cents.
func (t *Table) place(fraction float64) float64 {
	s := &t.plot.table.Columns[0].Scale
	v := s.At(fraction)
	if inCents(&t.plot.table.Columns[0]) {
		return min(max(math.Round(v*1200)/1200, s.Min), s.Max)
	}
	return rounded(v, s).Value
}

// across sets every bar between the last place of the mouse and this one: the
// line of the stroke is what they reach.
func (t *Table) across(x, y float32) {
	g, s := &t.plot, &t.stroke
	at := func(x float32) int {
		return min(max(int((x-g.x0)/g.width()*float32(len(g.rows))), 0), len(g.rows)-1)
	}
	first, last := at(s.x), at(x)
	step := 1
	if last < first {
		step = -1
	}
	for i := first; ; i += step {
		part := float32(1)
		if x != s.x && i != last {
			part = min(max((g.x(i)-s.x)/(x-s.x), 0), 1)
		}
		s.rows[i][1] = g.level(s.y + part*(y-s.y))
		if i == last {
			break
		}
	}
	s.x, s.y, t.row = x, y, last
	t.tell()
}

// movePoint moves a point of a curve. Those behind it stay where they are.
func (t *Table) movePoint(x, y float32) {
	g, rows, i := &t.plot, t.stroke.rows, t.stroke.row
	s := &g.table.Columns[0].Scale
	rows[i][1] = g.level(y)
	before := 0.0
	for _, row := range rows[:i] {
		before += row[0]
	}
	most := s.Max
	end := before + rows[i][0]
	if i+1 < len(rows) {
		end += rows[i+1][0]
		most = min(most, end-before)
	}
	rows[i][0] = min(max(rounded(g.timeAt(x)-before, s).Value, s.Min), most)
	if i+1 < len(rows) {
		rows[i+1][0] = min(max(rounded(end-before-rows[i][0], s).Value, s.Min), s.Max)
	}
}

// bend curves a segment as the mouse pulls it.
func (t *Table) bend(y float32) {
	g, row := &t.plot, t.stroke.rows[t.stroke.row]
	s := &g.table.Columns[2].Scale
	way := float64((t.stroke.y-y)/g.height()) * (s.Max - s.Min)
	if row[1] < g.levelBefore(t.stroke.row) {
		way = -way // what falls fast first lies low
	}
	row[2] = min(max(math.Round((row[2]+way)*100)/100, s.Min), s.Max)
}

// tell gives the stroke to the session, at once or when it is time.
func (t *Table) tell() {
	now := t.now()
	if t.stroke.untold = now.Sub(t.stroke.told) < hold; !t.stroke.untold {
		t.stroke.told = now
		t.set(copied(t.stroke.rows))
	}
	t.Refresh()
}

// beat tells what had to wait.
func (t *Table) beat() {
	if t.stroke.rows != nil && t.stroke.untold && t.now().Sub(t.stroke.told) >= hold {
		t.tell()
	}
}

// up ends a stroke: the last of it is told.
func (t *Table) up() {
	s := t.stroke
	t.stroke = stroke{}
	if s.rows != nil && s.untold {
		t.set(s.rows)
	}
	t.session.Settle()
	t.Refresh()
}

func (t *Table) set(rows [][]float64) { t.session.Do(desk.SetRows(t.module, rows)) }

// once makes rows the table's, as a step of undo of its own.
func (t *Table) once(rows [][]float64, chosen int) {
	t.session.Settle()
	t.row = chosen
	t.set(rows)
	t.session.Settle()
	t.Refresh()
}

func (t *Table) reset() { t.once(nil, 0) }

// double adds a point where there is none; on a point or a bar its number can
// be typed.
func (t *Table) double() {
	x, y := t.pressedAt()
	g := &t.plot
	if row, away := g.near(x, y); row < 0 || g.drawn == patch.DrawnBars || away <= reachOfPoint*g.em {
		t.Type(g.upright(), "")
		return
	}
	if g.drawn == patch.DrawnPoints {
		t.insert(len(g.rows), []float64{t.place(float64((x - g.x0) / g.width()))})
		return
	}
	t.split(g.segment(x), g.timeAt(x), g.level(y))
}

func (t *Table) pressedAt() (x, y float32) { return t.at.X, t.at.Y }

// insert puts a row before row i, if one more is allowed.
func (t *Table) insert(i int, row []float64) {
	if t.full() {
		return
	}
	t.once(slices.Insert(copied(t.Rows()), i, row), i)
}

func (t *Table) full() bool {
	k, ok := t.kind()
	if ok && len(t.Rows()) >= k.Table.Most {
		t.say("there can be " + k.Table.Allowed())
		return true
	}
	return !ok
}

// split adds a point to a curve at a time and a level; the segment there is
// parted in two that bend as it did.
func (t *Table) split(i int, at, level float64) {
	if t.full() {
		return
	}
	g := &t.plot
	rows := copied(t.Rows())
	s := &g.table.Columns[0].Scale
	row := g.table.Row()
	row[1] = level
	first := min(max(rounded(at-g.timeOf(i-1), s).Value, s.Min), s.Max)
	row[0] = first
	if i < len(rows) && rows[i][0] > 0 {
		part := first / rows[i][0]
		rest := min(max(rounded(rows[i][0]-first, s).Value, s.Min), s.Max)
		if len(row) > 2 {
			bend := rows[i][2]
			row[2], rows[i][2] = math.Round(bend*part*100)/100, math.Round(bend*(1-part)*100)/100
		}
		rows[i][0] = rest
	}
	t.once(slices.Insert(rows, i, row), i)
}

// MouseDown is fyne's.
func (t *Table) MouseDown(ev *desktop.MouseEvent) {
	t.at = ev.Position
	t.Leaf.MouseDown(ev)
}

// MouseIn explains what can be done.
func (t *Table) MouseIn(ev *desktop.MouseEvent) {
	t.explain(t.hint())
	t.Leaf.MouseIn(ev)
}

// MouseOut ends the explanation.
func (t *Table) MouseOut() {
	t.explain("")
	t.Leaf.MouseOut()
}
