package ruler

import (
	"math"
	"slices"

	"lampblack/app/window/leaf"
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
