package picture

import (
	"fmt"
	"math"

	"gonum.org/v1/plot/vg"
)

// Point is a value at a time.
type Point struct {
	Second float64
	Value  float64 // NaN: the line is broken here
}

// Move is the movement of a control, drawn over a spectrogram.
type Move struct {
	Name   string // "reed / centre"
	Unit   string // "Hz": it stands on the frequency axis
	Points []Point

	// Low and High are the values at the lower and the upper edge of the picture,
	// for every other unit than Hz.
	Low, High   float64
	Logarithmic bool // of the axis between them
}

// moves draws movements of controls and tells their names above the field; it
// returns where these end.
func (f panel) moves(after string, moves []Move) vg.Length {
	var lines []keyLine
	for i, m := range moves {
		if i == len(dashes) {
			break // more could not be told apart
		}
		y, name := f.y, m.Name
		if m.Unit != "Hz" {
			y = axis{low: m.Low, high: m.High, logarithmic: m.Logarithmic}
			name += fmt.Sprintf(" (%s to %s %s)", number(m.Low, 1), number(m.High, 1), m.Unit)
		}
		over := panel{f.page, f.box, f.x, y}
		for _, part := range over.unbroken(m.Points) {
			f.stroke(part, f.pt(3), f.Ink.Ground, nil) // it is to be seen on every shade
			f.stroke(part, f.pt(1.3), f.Ink.Modulation, dashes[i])
		}
		lines = append(lines, keyLine{name, f.Ink.Modulation, dashes[i], 1.3})
	}
	return f.key(after, lines...)
}

// unbroken returns the stretches of a movement that lie within the time axis.
// Values beyond the field lie on its edge.
func (f panel) unbroken(points []Point) (parts [][]vg.Point) {
	var part []vg.Point
	end := func() {
		if len(part) > 1 {
			parts = append(parts, part)
		}
		part = nil
	}
	for i, at := range points {
		if math.IsNaN(at.Value) {
			end()
			continue
		}
		if i > 0 && at.Second > f.x.high && points[i-1].Second < f.x.high && len(part) > 0 {
			at = crossing(points[i-1], at, f.x.high)
		}
		if i+1 < len(points) && at.Second < f.x.low && points[i+1].Second > f.x.low && !math.IsNaN(points[i+1].Value) {
			at = crossing(at, points[i+1], f.x.low)
		}
		if at.Second < f.x.low || at.Second > f.x.high {
			end()
			continue
		}
		low, high := min(f.y.low, f.y.high), max(f.y.low, f.y.high)
		part = append(part, f.at(at.Second, min(max(at.Value, low), high)))
	}
	end()
	return parts
}

// crossing returns the point at a second on the way from a to b.
func crossing(a, b Point, second float64) Point {
	return Point{second, a.Value + (b.Value-a.Value)*(second-a.Second)/(b.Second-a.Second)}
}
