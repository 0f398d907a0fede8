package ruler

import (
	"image"
	"math"

	"lampblack/app/window/look"
	"lampblack/patch"
)

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
