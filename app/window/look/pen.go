package look

import (
	"image"
	"image/color"
	"math"

	"golang.org/x/image/vector"
)

// Pen draws anti-aliased lines into a picture, in pixels: x to the right, y
// down, whole numbers on the edges between pixels. One goroutine uses a pen.
//
// The rasteriser adds up the signed area of closed paths and stops at full
// cover, so every path is drawn in the same sense of rotation: lines may
// cross themselves without leaving holes.
type Pen struct {
	Width float32 // of a stroke, in pixels

	to     *image.RGBA
	raster *vector.Rasterizer
	colour *image.Uniform
	path   []point

	upper, lower []point // of a trace, kept for the next one
}

type point struct{ x, y float32 }

// NewPen returns a pen of 1 pixel that draws into to.
func NewPen(to *image.RGBA, c color.Color) *Pen {
	b := to.Bounds()
	return &Pen{Width: 1, to: to, raster: vector.NewRasterizer(b.Dx(), b.Dy()), colour: image.NewUniform(c)}
}

// Canvas returns an empty picture of w by h pixels, at least 1 by 1.
func Canvas(w, h int) *image.RGBA { return image.NewRGBA(image.Rect(0, 0, max(w, 1), max(h, 1))) }

// Move starts a line at x, y.
func (p *Pen) Move(x, y float32) {
	p.outline()
	p.path = append(p.path[:0], point{x, y})
}

// Line goes on to x, y. A step of no length is left out.
func (p *Pen) Line(x, y float32) {
	if n := len(p.path); n > 0 && p.path[n-1] == (point{x, y}) {
		return
	}
	p.path = append(p.path, point{x, y})
}

// Circle starts and ends a line around x, y.
func (p *Pen) Circle(x, y, radius float32) {
	steps := int(min(max(radius*3, 16), 128))
	for i := range steps + 1 {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(steps))
		px, py := x+radius*float32(cos), y+radius*float32(sin)
		if i == 0 {
			p.Move(px, py)
		} else {
			p.Line(px, py)
		}
	}
}

// Box starts and ends a line around a rectangle.
func (p *Pen) Box(x0, y0, x1, y1 float32) {
	p.Move(x0, y0)
	p.Line(x1, y0)
	p.Line(x1, y1)
	p.Line(x0, y1)
	p.Line(x0, y0-p.Width/2)
}

// Ink sets all lines since the last Ink or Fill down in the pen's colour.
func (p *Pen) Ink() {
	p.outline()
	p.path = p.path[:0]
	p.set()
}

// Fill sets the inside of the line since the last Move down.
func (p *Pen) Fill() {
	if len(p.path) > 2 {
		p.polygon(p.path)
	}
	p.path = p.path[:0]
	p.set()
}

func (p *Pen) set() {
	b := p.to.Bounds()
	p.raster.Draw(p.to, b, p.colour, image.Point{})
	p.raster.Reset(b.Dx(), b.Dy())
}

// outline adds the outlines of the strokes of the path so far.
func (p *Pen) outline() {
	half := p.Width / 2
	for i := 1; i < len(p.path); i++ {
		a, b := p.path[i-1], p.path[i]
		length := float32(math.Hypot(float64(b.x-a.x), float64(b.y-a.y)))
		nx, ny := -(b.y-a.y)/length*half, (b.x-a.x)/length*half
		p.polygon([]point{{a.x - nx, a.y - ny}, {b.x - nx, b.y - ny}, {b.x + nx, b.y + ny}, {a.x + nx, a.y + ny}})
		if i > 1 && p.Width > 1.5 {
			p.joint(a, half)
		}
	}
	p.path = p.path[:0]
}

// joint rounds the corner between two strokes.
func (p *Pen) joint(at point, half float32) {
	var corner [8]point
	for i := range corner {
		sin, cos := math.Sincos(math.Pi / 4 * float64(i))
		corner[i] = point{at.x + half*float32(cos), at.y + half*float32(sin)}
	}
	p.polygon(corner[:])
}

// polygon adds a closed path, turned so that its area is positive.
func (p *Pen) polygon(path []point) {
	area := float32(0)
	for i, a := range path {
		b := path[(i+1)%len(path)]
		area += a.x*b.y - b.x*a.y
	}
	at := func(i int) point {
		if area < 0 {
			return path[len(path)-1-i]
		}
		return path[i]
	}
	start := at(0)
	p.raster.MoveTo(start.x, start.y)
	for i := 1; i < len(path); i++ {
		q := at(i)
		p.raster.LineTo(q.x, q.y)
	}
	p.raster.ClosePath()
}
