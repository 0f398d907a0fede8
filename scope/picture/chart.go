package picture

import (
	"fmt"
	"io"
	"math"

	"gonum.org/v1/plot/vg"

	"lampblack/scope"
)

// Chart is what a strip chart shows: for each stretch of time the lowest and the
// highest value, up to now.
type Chart struct {
	A, B         []scope.Column // the oldest first; B may be empty
	NameA, NameB string         // what the probes stand on: "reed / out"
	PerDivision  float64        // s in a division across; now is at the right edge
	UpA, UpB     float64        // the signal's own unit in a division up
	Cursors      []float64      // s from now, negative
}

// Strip draws a strip chart over the divisions of a screen, A unbroken and B
// dashed.
func Strip(w io.Writer, g Chart, o Options) error {
	if !(g.PerDivision > 0) || math.IsInf(g.PerDivision, 0) || !(g.UpA > 0) || !(g.UpB > 0) {
		return fmt.Errorf("a division is %g s across and %g, %g up; all must be positive; the picture was not drawn", g.PerDivision, g.UpA, g.UpB)
	}
	p, err := newPage(o, 1600, 1000)
	if err != nil {
		return err
	}
	method := span(g.PerDivision) + "/div   A " + bare(g.UpA) + "/div"
	looks := []keyLine{{"A  " + g.NameA, p.Ink.Left, nil, 1.1}}
	if len(g.B) > 0 {
		method += "   B " + bare(g.UpB) + "/div"
		looks = append(looks, keyLine{"B  " + g.NameB, p.Ink.Right, dashes[1], 1.1})
	}
	x := axis{low: -across * g.PerDivision, high: 0, marks: evenly(across)}
	f := p.field(p.sheet(), x, axis{low: -up / 2, high: up / 2, marks: divisions{}}, names{panel: "Strip chart", method: method, x: "s", unit: "div"})
	f.crosshair()
	f.strip(g.A, g.UpA, looks[0])
	if len(g.B) > 0 {
		f.strip(g.B, g.UpB, looks[1])
	}
	f.key("Strip chart", looks...)
	for i, second := range g.Cursors {
		if i == 2 || !(second >= f.x.low && second <= 0) {
			break
		}
		at := f.snap(f.across(second))
		f.stroke([]vg.Point{{X: at, Y: f.box.Min.Y}, {X: at, Y: f.box.Max.Y}}, f.hair, f.Ink.Drawn, dashes[1+i])
		f.say(figures, 8, f.Ink.Drawn, at+f.pt(3), f.box.Max.Y-f.pt(9), left, number(second, 2)+" s")
	}
	return p.finish(w)
}

// strip draws columns from edge to edge of the field; empty ones break the line.
func (f panel) strip(columns []scope.Column, perDivision float64, look keyLine) {
	var points []vg.Point
	last := 0.0
	place := func(c int, value float64) {
		value = min(max(value/perDivision, -up/2), up/2)
		part := (float64(c) + 0.5) / float64(len(columns))
		points = append(points, vg.Point{X: f.box.Min.X + vg.Length(part)*f.box.Size().X, Y: f.up(value)})
	}
	for c, column := range columns {
		if column.Empty() {
			f.stroke(points, f.pt(look.width), look.colour, look.dash)
			points = nil
			continue
		}
		from, to := column.Min, column.Max
		if math.Abs(last-to) < math.Abs(last-from) { // the nearer end first, as in a trace
			from, to = to, from
		}
		place(c, from)
		if to != from {
			place(c, to)
		}
		last = to
	}
	f.stroke(points, f.pt(look.width), look.colour, look.dash)
}
