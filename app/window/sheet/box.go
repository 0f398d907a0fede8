package sheet

import "lampblack/patch"

// Point is a place on the sheet.
type Point = patch.Point

// Box is an upright rectangle on the sheet.
type Box struct{ X0, Y0, X1, Y1 float64 }

func (b Box) width() float64  { return b.X1 - b.X0 }
func (b Box) height() float64 { return b.Y1 - b.Y0 }
func (b Box) centre() Point   { return Point{X: (b.X0 + b.X1) / 2, Y: (b.Y0 + b.Y1) / 2} }
func (b Box) empty() bool     { return b.X1 <= b.X0 || b.Y1 <= b.Y0 }

func (b Box) holds(p Point) bool {
	return p.X >= b.X0 && p.X <= b.X1 && p.Y >= b.Y0 && p.Y <= b.Y1
}

// grown returns b with its sides moved outwards by d.
func (b Box) grown(d float64) Box { return Box{b.X0 - d, b.Y0 - d, b.X1 + d, b.Y1 + d} }

func (b Box) meets(c Box) bool {
	return b.X0 < c.X1 && c.X0 < b.X1 && b.Y0 < c.Y1 && c.Y0 < b.Y1
}

// around returns the least box that holds both.
func (b Box) around(c Box) Box {
	return Box{min(b.X0, c.X0), min(b.Y0, c.Y0), max(b.X1, c.X1), max(b.Y1, c.Y1)}
}

// span returns the box of which two points are corners.
func span(a, b Point) Box {
	return Box{min(a.X, b.X), min(a.Y, b.Y), max(a.X, b.X), max(a.Y, b.Y)}
}
