package ruler

import (
	"math"

	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
	"lampblack/patch"
)

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
