package picture

import (
	"image/color"
	"math"

	"gonum.org/v1/plot/vg"
)

// dashes of the traces, in the order of their places: a picture in black and
// white tells them apart.
var dashes = [...][]float64{nil, {5, 2.2}, {1.2, 2.2}, {7, 2, 1.2, 2}}

// snap moves a place to the middle of a hairline's pixels, so that it is drawn
// sharp; in SVG and PDF it leaves it.
func (p *page) snap(v vg.Length) vg.Length {
	if p.image == nil {
		return v
	}
	half := p.hair / 2
	return vg.Length(math.Round(float64((v-half)/p.pixel)))*p.pixel + half
}

// fill paints a rectangle.
func (p *page) fill(r vg.Rectangle, c color.Color) {
	p.SetColor(c)
	p.Fill(r.Path())
}

// line draws a straight hairline, level or upright.
func (p *page) line(x0, y0, x1, y1 vg.Length, c color.Color) {
	p.stroke([]vg.Point{{X: p.snap(x0), Y: p.snap(y0)}, {X: p.snap(x1), Y: p.snap(y1)}}, p.hair, c, nil)
}

// rule draws a hairline across.
func (p *page) rule(x0, x1, y vg.Length, c color.Color) { p.line(x0, y, x1, y, c) }

// frame draws the outline of a rectangle.
func (p *page) frame(r vg.Rectangle, c color.Color) {
	a, b := vg.Point{X: p.snap(r.Min.X), Y: p.snap(r.Min.Y)}, vg.Point{X: p.snap(r.Max.X), Y: p.snap(r.Max.Y)}
	p.stroke([]vg.Point{a, {X: b.X, Y: a.Y}, b, {X: a.X, Y: b.Y}, a}, p.hair, c, nil)
}

// stroke draws a line through points; pattern is a dash in points, or nil.
func (p *page) stroke(points []vg.Point, width vg.Length, c color.Color, pattern []float64) {
	if len(points) < 2 {
		return
	}
	var path vg.Path
	path.Move(points[0])
	for _, at := range points[1:] {
		path.Line(at)
	}
	lengths := make([]vg.Length, len(pattern))
	for i, d := range pattern {
		lengths[i] = p.pt(d)
	}
	p.SetColor(c)
	p.SetLineWidth(width)
	p.SetLineDash(lengths, 0)
	p.Stroke(path)
	p.SetLineDash(nil, 0)
}

// area paints what lies between two lines over the same places.
func (p *page) area(upper, lower []vg.Point, c color.Color) {
	var path vg.Path
	path.Move(upper[0])
	for _, at := range upper[1:] {
		path.Line(at)
	}
	for i := len(lower) - 1; i >= 0; i-- {
		path.Line(lower[i])
	}
	path.Close()
	p.SetColor(c)
	p.Fill(path)
}

// circle draws a ring around a place.
func (p *page) circle(at vg.Point, radius vg.Length, c color.Color) {
	var path vg.Path
	path.Move(vg.Point{X: at.X + radius, Y: at.Y})
	path.Arc(at, radius, 0, 2*math.Pi)
	path.Close()
	p.SetColor(c)
	p.SetLineWidth(p.pt(0.8))
	p.Stroke(path)
}
