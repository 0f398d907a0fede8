package ruler

import (
	"image"
	"math"
	"slices"

	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
	"lampblack/patch"
)

// plot is where the rows of a table stand on the page.
type plot struct {
	drawn          patch.Drawn
	table          *patch.Table
	rows           [][]float64
	x0, y0, x1, y1 float32 // the box in which they stand
	margin         float32 // around it, for rings that lie on its edge
	em             float32
	span           float64 // of a curve: seconds from left to right
	marks          marks
}

// marks are the rows of a curve at which it waits or begins again, from 1 on; 0
// is nowhere.
type marks struct{ sustain, from, to int }

func (t *Table) lay(k *patch.Kind, p *leaf.Pen) plot {
	em := p.Em
	g := plot{drawn: k.Table.Drawn, table: k.Table, rows: t.Rows(), em: em, margin: 0.5 * em}
	g.x0, g.x1 = 4.2*em, p.Width-2.2*em
	g.y0, g.y1 = (tableHead+0.6)*em, p.Height-1.9*em
	if g.drawn == patch.DrawnPoints {
		g.x0 = 2.6 * em
	}
	g.y1 = max(g.y1, g.y0+em)
	g.marks = t.marks(k)
	if g.span = t.stroke.span; g.span == 0 {
		g.span = spanOf(g.rows)
	}
	return g
}

// marks reads the controls of a kind that name rows.
func (t *Table) marks(k *patch.Kind) marks {
	read := func(control string) int {
		if k.Control(control) == nil {
			return 0
		}
		v, _ := t.session.Setting(t.module, control)
		if n := int(v.Value); n >= 1 && n <= len(t.Rows()) {
			return n
		}
		return 0
	}
	m := marks{read("sustain"), read("loop from"), read("loop to")}
	if m.from == 0 || m.to < m.from {
		m.from, m.to = 0, 0
	}
	return m
}

// spanOf returns how many seconds a curve is drawn over: a little more than it
// lasts, so that its end can be taken further.
func spanOf(rows [][]float64) float64 {
	sum := 0.0
	for _, row := range rows {
		sum += row[0]
	}
	return max(sum*1.08, 0.001)
}

func (g *plot) width() float32  { return g.x1 - g.x0 }
func (g *plot) height() float32 { return g.y1 - g.y0 }

// upright is the column that is drawn as a height, across the one that is drawn
// as a place from left to right.
func (g *plot) upright() int {
	if g.drawn == patch.DrawnPoints {
		return 0
	}
	return 1
}

// y returns where a value of the upright column stands, level undoes it.
func (g *plot) y(v float64) float32 {
	s := &g.table.Columns[g.upright()].Scale
	return g.y1 - float32(min(max(s.Fraction(v), 0), 1))*g.height()
}

func (g *plot) level(y float32) float64 {
	s := &g.table.Columns[g.upright()].Scale
	return rounded(s.At(float64((g.y1-y)/g.height())), s).Value
}

// foot is the level from which bars rise and at which a curve begins: 0 where
// the scale goes through it, else its lower end.
func (g *plot) foot() float64 {
	s := &g.table.Columns[g.upright()].Scale
	if s.Min < 0 && s.Max > 0 {
		return 0
	}
	return s.Min
}

// x returns where the middle of a row stands.
func (g *plot) x(row int) float32 {
	switch g.drawn {
	case patch.DrawnBars:
		return g.x0 + (float32(row)+0.5)*g.width()/float32(max(len(g.rows), 1))
	case patch.DrawnPoints:
		return g.x0 + float32(g.table.Columns[0].Scale.Fraction(g.rows[row][0]))*g.width()
	}
	return g.xAt(g.timeOf(row))
}

// timeOf returns the time at which segment row of a curve ends; -1 is the start.
func (g *plot) timeOf(row int) (sum float64) {
	for i := range row + 1 {
		sum += g.rows[i][0]
	}
	return sum
}

func (g *plot) xAt(seconds float64) float32 { return g.x0 + float32(seconds/g.span)*g.width() }

func (g *plot) timeAt(x float32) float64 {
	return float64(max(x-g.x0, 0)/g.width()) * g.span
}

// levelBefore returns the level at which segment row of a curve starts.
func (g *plot) levelBefore(row int) float64 {
	if row > 0 {
		return g.rows[row-1][1]
	}
	return g.foot()
}

// bent returns the part of the way that a segment has gone when part t of its
// time is over: (1 - e^(-c t)) / (1 - e^(-c)), the formula of the contour.
func bent(c, t float64) float64 {
	if math.Abs(c) < 1e-6 {
		return t
	}
	return math.Expm1(-c*t) / math.Expm1(-c)
}

// curve returns the bend of segment row, 0 where there is no such column.
func (g *plot) curve(row int) float64 {
	if len(g.table.Columns) < 3 {
		return 0
	}
	return g.rows[row][2]
}

// near returns the row whose middle is nearest to a place, and how far it is.
func (g *plot) near(x, y float32) (row int, away float32) {
	row, away = -1, float32(math.Inf(1))
	for i := range g.rows {
		d := float32(math.Abs(float64(g.x(i) - x)))
		if g.drawn == patch.DrawnCurve {
			d = float32(math.Hypot(float64(d), float64(g.y(g.rows[i][1])-y)))
		}
		if d < away || d == away && g.drawn == patch.DrawnCurve {
			row, away = i, d
		}
	}
	return row, away
}

// segment returns the segment of a curve over which x lies, len(rows) behind
// the last one.
func (g *plot) segment(x float32) int {
	at := g.timeAt(x)
	for i := range g.rows {
		if at -= g.rows[i][0]; at < 0 {
			return i
		}
	}
	return len(g.rows)
}

// order returns the rows as they stand from left to right.
func (g *plot) order() []int {
	order := make([]int, len(g.rows))
	for i := range order {
		order[i] = i
	}
	if g.drawn == patch.DrawnPoints {
		slices.SortStableFunc(order, func(a, b int) int {
			switch d := g.rows[a][0] - g.rows[b][0]; {
			case d < 0:
				return -1
			case d > 0:
				return 1
			}
			return 0
		})
	}
	return order
}

// ruling prints the scales.
func (g *plot) ruling(p *leaf.Pen) {
	if g.drawn == patch.DrawnPoints {
		g.acrossScale(p, centScale(&g.table.Columns[0].Scale), "cents")
		return
	}
	g.uprightScale(p)
	if g.drawn == patch.DrawnCurve {
		g.acrossScale(p, &patch.Scale{Unit: "s", Max: g.span}, "")
		g.writeMarks(p)
		return
	}
	g.names(p)
}

// centScale is the scale of an interval in cents.
func centScale(s *patch.Scale) *patch.Scale {
	return &patch.Scale{Min: s.Min * 1200, Max: s.Max * 1200, Taper: patch.Stepped} // whole cents are names: 1200, not 1.2k
}

func (g *plot) uprightScale(p *leaf.Pen) {
	c := &g.table.Columns[g.upright()]
	line := float64(look.Small.Height())
	marks := divide(&c.Scale, print{width: float64(g.height()), gap: 0.1 * line, measure: func(string) float64 { return line * 0.7 }})
	for _, m := range marks {
		if m.Label == "" {
			continue
		}
		y := g.y1 - float32(m.At)*g.height()
		p.Level(g.x0-0.4*g.em, y, g.width()+0.4*g.em, p.Ink.Faint)
		text := m.Label
		if m.At == 1 {
			text = look.Shown(text + " " + c.Scale.Unit)
		}
		p.Right(look.Small, g.x0-0.6*g.em, y+0.28*g.em, text)
	}
	p.Upright(g.x0, g.y0, g.height(), p.Ink.Line)
	p.Level(g.x0, g.y(g.foot()), g.width(), p.Ink.Line)
}

// acrossScale prints a scale under the drawing.
func (g *plot) acrossScale(p *leaf.Pen, s *patch.Scale, unit string) {
	y := g.y1
	if g.drawn == patch.DrawnPoints {
		y = g.y0 + g.height()/2
	}
	p.Level(g.x0, y, g.width(), p.Ink.Line)
	marks := divide(s, print{width: float64(g.width()), gap: 0.6 * float64(g.em), measure: func(text string) float64 {
		return float64(look.Small.Measure(text).Width)
	}})
	for i, m := range marks {
		if g.drawn == patch.DrawnCurve && i == len(marks)-1 {
			break // the end of the paper is no round number, and means nothing
		}
		x := g.x0 + float32(m.At)*g.width()
		long := map[Height]float32{Low: 0.25, Middle: 0.4, Tall: 0.6}[m.Height] * g.em
		p.Upright(x, y, long, p.Ink.Line)
		text := m.Label
		if text != "" && i == 0 && unit != "" {
			text += " " + unit
		}
		p.Middle(look.Small, x, y+1.5*g.em, text)
	}
}

// names writes under bars what they are: their place across, as many as have
// room, and always that of the chosen one.
func (g *plot) names(p *leaf.Pen) {
	s := &g.table.Columns[0].Scale
	end := float32(math.Inf(-1))
	for i, row := range g.rows {
		text := print{}.text(s, math.Round(row[0]*1000)/1000)
		wide := p.Wide(look.Small, text)
		x := g.x(i)
		if x-wide/2 < end+0.5*g.em || x+wide/2 > p.Width {
			continue
		}
		p.Middle(look.Small, x, g.y1+1.2*g.em, text)
		end = x + wide/2
	}
	p.Level(g.x0, g.y1, g.width(), p.Ink.Line)
}

// writeMarks says where a curve waits, and which segments it goes through
// again.
func (g *plot) writeMarks(p *leaf.Pen) {
	if n := g.marks.sustain; n > 0 {
		x := g.x(n - 1)
		for y := g.y0; y < g.y1; y += 0.6 * g.em {
			p.Upright(x, y, min(0.3*g.em, g.y1-y), p.Ink.Line)
		}
		g.caption(p, x, "sustain")
	}
	if g.marks.from > 0 {
		x0, x1 := g.xAt(g.timeOf(g.marks.from-2)), g.x(g.marks.to-1)
		y := g.y1 - 0.35*g.em
		p.Level(x0, y, x1-x0, p.Ink.Drawn)
		p.Upright(x0, y-0.3*g.em, 0.6*g.em, p.Ink.Drawn)
		p.Upright(x1, y-0.3*g.em, 0.6*g.em, p.Ink.Drawn)
		p.Text(look.Small, x0+0.3*g.em, y-0.25*g.em, "loop")
	}
}

// caption writes a word at the top of an upright line, on the side where there
// is room.
func (g *plot) caption(p *leaf.Pen, x float32, text string) {
	if x+p.Wide(look.Small, text)+0.4*g.em > p.Width {
		p.Right(look.Small, x-0.3*g.em, g.y0+0.3*g.em, text)
		return
	}
	p.Text(look.Small, x+0.4*g.em, g.y0+0.3*g.em, text)
}

// paint draws the rows themselves.
func (t *Table) paint(w, h int) image.Image {
	to := look.Canvas(w, h)
	g := &t.plot
	if g.table == nil || g.width() <= 0 {
		return to
	}
	pixels := float32(w) / (g.width() + 2*g.margin)
	// From the page to the picture.
	px := func(x float32) float32 { return (x - g.x0 + g.margin) * pixels }
	py := func(y float32) float32 { return (y - g.y0 + g.margin) * pixels }
	switch g.drawn {
	case patch.DrawnBars:
		t.paintBars(to, px, py)
	case patch.DrawnPoints:
		t.paintPoints(to, px, py, pixels)
	default:
		t.paintCurve(to, px, py, pixels)
	}
	return to
}

func (t *Table) paintBars(to *image.RGBA, px, py func(float32) float32) {
	g, ink := &t.plot, look.Now()
	half := min(0.28*g.width()/float32(len(g.rows)), 0.45*g.em)
	foot := g.y(g.foot())
	for i, row := range g.rows {
		colour := ink.Line
		if i == t.Row() {
			colour = ink.Drawn
		}
		y := g.y(row[1])
		top, low := min(y, foot), max(y, foot)
		low = max(low, top+1.5)
		x0, x1 := int(math.Round(float64(px(g.x(i)-half)))), int(math.Round(float64(px(g.x(i)+half))))
		fill(to, image.Rect(x0, int(math.Round(float64(py(top)))), max(x1, x0+1), int(math.Round(float64(py(low))))), colour)
	}
}

func (t *Table) paintPoints(to *image.RGBA, px, py func(float32) float32, pixels float32) {
	g, ink := &t.plot, look.Now()
	middle := g.y0 + g.height()/2
	pen := look.NewPen(to, ink.Drawn)
	pen.Width = max(1, 1.2*pixels)
	for i := range g.rows {
		x, y := px(g.x(i)), py(middle-min(1.6*g.em, 0.4*g.height()))
		pen.Move(x, py(middle))
		pen.Line(x, y)
		pen.Ink()
		ring(to, x, y, 0.3*g.em*pixels, pen.Width, i == t.Row())
	}
}

func (t *Table) paintCurve(to *image.RGBA, px, py func(float32) float32, pixels float32) {
	g, ink := &t.plot, look.Now()
	pen := look.NewPen(to, ink.Drawn)
	pen.Width = max(1, 1.4*pixels)
	at := 0.0
	pen.Move(px(g.xAt(0)), py(g.y(g.levelBefore(0))))
	for i, row := range g.rows {
		from := g.levelBefore(i)
		steps := int(min(max((g.xAt(row[0])-g.x0)/3, 1), 200))
		for n := 1; n <= steps; n++ {
			part := float64(n) / float64(steps)
			pen.Line(px(g.xAt(at+part*row[0])), py(g.y(from+(row[1]-from)*bent(g.curve(i), part))))
		}
		at += row[0]
	}
	pen.Ink()
	for i, row := range g.rows {
		ring(to, px(g.x(i)), py(g.y(row[1])), 0.3*g.em*pixels, max(1, 1.2*pixels), i == t.Row())
	}
}

// ring draws a point that can be dragged; the chosen one is filled.
func ring(to *image.RGBA, x, y, radius, width float32, chosen bool) {
	ink := look.Now()
	ground := look.NewPen(to, ink.Ground)
	if chosen {
		ground = look.NewPen(to, ink.Drawn)
	}
	ground.Circle(x, y, radius)
	ground.Fill()
	pen := look.NewPen(to, ink.Drawn)
	pen.Width = width
	pen.Circle(x, y, radius)
	pen.Ink()
}
