package response

import (
	"image"
	"image/color"
	"math"

	"lampblack/app/window/look"
	"lampblack/scope/sounding"
)

// draw draws the lines, in pixels of the screen.
func (p *Plate) draw(w, h int) image.Image {
	unit := float32(w) / max(p.raster.Size().Width, 1)
	ink := look.Now()
	return p.calm.Draw(w, h, ink.Ground, float64(unit), func(to *image.RGBA) {
		for _, at := range p.places {
			at.box.X, at.box.Y, at.box.Width, at.box.Height = at.box.X*unit, at.box.Y*unit, at.box.Width*unit, at.box.Height*unit
			at.paint(to, ink, unit)
		}
	})
}

func strokeInk(ink *look.Ink, s stroke) color.NRGBA {
	if s == grey {
		return ink.Line
	}
	return ink.Drawn
}

func (at placed) paint(to *image.RGBA, ink *look.Ink, unit float32) {
	bars := look.NewPen(to, ink.Drawn)
	bars.Width = 2.2 * unit
	for _, b := range at.bars {
		x, y := at.place(b)
		if b.Y > at.y.low && x > at.box.X && x < at.box.X+at.box.Width {
			bars.Move(x, at.box.Y+at.box.Height)
			bars.Line(x, max(y, at.box.Y))
			bars.Ink()
		}
	}
	for _, l := range at.lines {
		pen := look.NewPen(to, strokeInk(ink, l.stroke))
		pen.Width = 1.5 * unit
		at.trace(pen, l.points, patterns[l.stroke], unit)
	}
	rings := look.NewPen(to, ink.ProbeA)
	rings.Width = 1.3 * unit
	for _, r := range at.rings {
		if x, y := at.place(r); at.holds(r) {
			rings.Circle(x, y, 2.6*unit)
		}
	}
	rings.Ink()
	stems, spots := look.NewPen(to, ink.Line), look.NewPen(to, ink.Drawn)
	stems.Width, spots.Width = unit, 1.3*unit
	for _, m := range at.marks {
		if m.text == keyRing {
			rings.Circle(float32(m.x)*unit, float32(m.y)*unit, 2.6*unit)
			rings.Ink()
			continue
		}
		x, y := at.place(sounding.Point{X: m.x, Y: m.y})
		stems.Move(x, at.box.Y+at.box.Height)
		stems.Line(x, y)
		stems.Ink()
		spots.Move(x-5*unit, y)
		spots.Line(x+5*unit, y)
		spots.Ink()
	}
}

func (at placed) place(p sounding.Point) (x, y float32) {
	return at.box.X + at.box.Width*float32(at.x.at(p.X)), at.box.Y + at.box.Height*float32(1-at.y.at(p.Y))
}

func (at placed) holds(p sounding.Point) bool {
	return p.X >= at.x.low && p.X <= at.x.high && p.Y >= at.y.low && p.Y <= at.y.high
}

// trace draws a line as far as it lies within the field, with a pattern or whole.
func (at placed) trace(pen *look.Pen, points []sounding.Point, pattern []float32, unit float32) {
	top, foot := at.box.Y, at.box.Y+at.box.Height
	dashes := dashing{pattern: pattern, unit: unit}
	begun := false
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		x0, y0 := at.place(a)
		x1, y1 := at.place(b)
		// Far below, where nothing comes through, a level is -Inf: as far as one can see.
		y0, y1 = limited(y0, foot), limited(y1, foot)
		if y0 != y0 || y1 != y1 || a.X < at.x.low || b.X > at.x.high*(1+1e-9) {
			begun = false
			continue
		}
		if !clip(&x0, &y0, &x1, &y1, top, foot) {
			begun = false
			continue
		}
		if !begun || y0 == top || y0 == foot {
			pen.Move(x0, y0)
		}
		begun = true
		if len(pattern) == 0 {
			pen.Line(x1, y1)
			continue
		}
		dashes.along(pen, x0, y0, x1, y1)
	}
	pen.Ink()
}

// limited keeps a place within what can be reckoned with.
func limited(y, foot float32) float32 {
	if y > foot+1e5 {
		return foot + 1e5
	}
	return max(y, -1e5)
}

// clip cuts a stroke at the top and the foot of a field; false: none of it is in.
func clip(x0, y0, x1, y1 *float32, top, foot float32) bool {
	if *y0 < top && *y1 < top || *y0 > foot && *y1 > foot {
		return false
	}
	cut := func(xa, ya *float32, xb, yb float32) {
		for _, edge := range [2]float32{top, foot} {
			if (edge == top && *ya < top) || (edge == foot && *ya > foot) {
				*xa += (xb - *xa) * (edge - *ya) / (yb - *ya)
				*ya = edge
			}
		}
	}
	cut(x0, y0, *x1, *y1)
	cut(x1, y1, *x0, *y0)
	return true
}

// dashing is how far a line has come in its pattern.
type dashing struct {
	pattern []float32
	unit    float32 // in pixels
	turn    int     // the pen is down in even turns
	gone    float32 // how far the present turn has come, in pixels
}

// along goes along a stroke with the pen down and up by turns.
func (d *dashing) along(pen *look.Pen, x0, y0, x1, y1 float32) {
	length := float32(math.Hypot(float64(x1-x0), float64(y1-y0)))
	for at := float32(0); at < length; {
		turn := d.pattern[d.turn%len(d.pattern)] * d.unit
		step := min(turn-d.gone, length-at)
		at, d.gone = at+step, d.gone+step
		x, y := x0+(x1-x0)*at/length, y0+(y1-y0)*at/length
		if d.turn%2 == 0 {
			pen.Line(x, y)
		} else {
			pen.Move(x, y)
		}
		if d.gone >= turn-1e-3 {
			d.gone, d.turn = 0, d.turn+1
			if d.turn%2 == 0 {
				pen.Move(x, y)
			}
		}
	}
}
