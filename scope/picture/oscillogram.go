package picture

import (
	"errors"
	"fmt"
	"image/color"
	"io"
	"math"
	"strconv"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"

	"lampblack/scope"
)

// The divisions of a screen: ten across and eight up, as on every oscilloscope.
const (
	across = 10
	up     = 8
)

// Oscillogram is what a picture of the scope shows.
type Oscillogram struct {
	A, B        []float64 // samples of the two probes; B may be empty
	NameA       string    // what probe A stands on: "reed / out"
	NameB       string
	Rate        float64 // samples a second
	First       float64 // the place in A and B at the left edge, in samples
	PerDivision float64 // s in a division across
	UpA, UpB    float64 // the signal's own unit in a division up; 0 is 0.25
	Trigger     string  // how the trace was caught: "rising through 0 on B"

	// Kept are earlier traces of A and of B, from edge to edge; nil is none.
	Kept [2][]scope.Column

	// Cursors are the seconds from the left edge at which a cursor stands, two at
	// most. What both traces are there is written below, and the difference.
	Cursors []float64
}

// Scope draws one or two traces over the divisions of a screen, A unbroken and B
// dashed, with cursors and their readings.
func Scope(w io.Writer, g Oscillogram, o Options) error {
	switch {
	case !(g.Rate > 0) || !(g.PerDivision > 0) || math.IsInf(g.PerDivision*g.Rate, 0):
		return fmt.Errorf("the rate is %g Hz and a division %g s; both must be positive; the picture was not drawn", g.Rate, g.PerDivision)
	case len(g.A) == 0:
		return errors.New("probe A has no samples; the picture was not drawn")
	case len(g.Cursors) > 2:
		return fmt.Errorf("there are %d cursors; a picture shows 2; it was not drawn", len(g.Cursors))
	}
	for _, reach := range []*float64{&g.UpA, &g.UpB} {
		if *reach == 0 {
			*reach = 0.25
		}
	}
	p, err := newPage(o, 1600, 1000)
	if err != nil {
		return err
	}
	r := p.sheet()
	readings := r
	if len(g.Cursors) > 0 {
		r.Min.Y += p.pt(16) * vg.Length(1+len(g.Cursors))
	}
	readings.Max.Y = r.Min.Y
	f := p.screen(r, g)
	f.readings(readings, g)
	return p.finish(w)
}

func (p *page) screen(r vg.Rectangle, g Oscillogram) panel {
	method := span(g.PerDivision) + "/div   A " + bare(g.UpA) + "/div"
	if len(g.B) > 0 {
		method += "   B " + bare(g.UpB) + "/div"
	}
	if g.Trigger != "" {
		method += "   " + g.Trigger
	}
	x := axis{low: 0, high: across * g.PerDivision * 1000, marks: evenly(across)}
	f := p.field(r, x, axis{low: -up / 2, high: up / 2, marks: divisions{}}, names{panel: "Scope", method: method, x: "ms", unit: "div"})
	f.crosshair()
	view := scope.View{First: g.First, Length: across * g.PerDivision * g.Rate}
	var before []keyLine
	for i, columns := range g.Kept {
		if len(columns) > 0 {
			look := keyLine{[...]string{"A kept", "B kept"}[i], p.Ink.Quiet, dashes[2+i], 0.9}
			f.strip(columns, [...]float64{g.UpA, g.UpB}[i], look)
			before = append(before, look)
		}
	}
	looks := []keyLine{{"A  " + g.NameA, p.Ink.Left, nil, 1.1}}
	f.trace(g.A, view, g.UpA, looks[0])
	if len(g.B) > 0 {
		looks = append(looks, keyLine{"B  " + g.NameB, p.Ink.Right, dashes[1], 1.1})
		f.trace(g.B, view, g.UpB, looks[1])
	}
	f.key("Scope", append(looks, before...)...)
	return f
}

// bare writes a number with as many digits as it has, four at most.
func bare(v float64) string { return strconv.FormatFloat(v, 'g', 4, 64) }

// divisions puts a mark at every whole number.
type divisions struct{}

// Ticks implements plot.Ticker.
func (divisions) Ticks(low, high float64) []plot.Tick {
	return evenly(int(high-low)+1).Ticks(low, high)
}

// crosshair draws the middle lines with a fifth of a division between ticks.
func (f panel) crosshair() {
	middle := vg.Point{X: (f.box.Min.X + f.box.Max.X) / 2, Y: (f.box.Min.Y + f.box.Max.Y) / 2}
	f.line(middle.X, f.box.Min.Y, middle.X, f.box.Max.Y, f.Ink.Line)
	f.line(f.box.Min.X, middle.Y, f.box.Max.X, middle.Y, f.Ink.Line)
	tick := f.pt(2)
	for i := range 5*across + 1 {
		x := f.box.Min.X + f.box.Size().X*vg.Length(i)/(5*across)
		f.line(x, middle.Y-tick, x, middle.Y+tick, f.Ink.Line)
	}
	for i := range 5*up + 1 {
		y := f.box.Min.Y + f.box.Size().Y*vg.Length(i)/(5*up)
		f.line(middle.X-tick, y, middle.X+tick, y, f.Ink.Line)
	}
}

// trace draws samples within a view; what is beyond the screen lies on its edge.
func (f panel) trace(samples []float64, v scope.View, perDivision float64, look keyLine) {
	n, last := f.columns(), 0.0
	var points []vg.Point
	place := func(part, value float64) {
		value = min(max(value/perDivision, -up/2), up/2)
		points = append(points, vg.Point{X: f.box.Min.X + vg.Length(part)*f.box.Size().X, Y: f.up(value)})
	}
	if v.Length/float64(n) < 2 {
		for i := range n + 1 {
			part := float64(i) / float64(n)
			if at := v.First + part*v.Length; at >= 0 && at <= float64(len(samples)-1) {
				place(part, scope.At(samples, at))
			}
		}
	} else {
		for c, column := range scope.Trace(make([]scope.Column, n), samples, v) {
			if column.Empty() {
				continue
			}
			// The nearer end first: going back and forth would blur the dashes.
			if math.Abs(last-column.Max) < math.Abs(last-column.Min) {
				column.Min, column.Max = column.Max, column.Min
			}
			part := (float64(c) + 0.5) / float64(n)
			place(part, column.Min)
			place(part, column.Max)
			last = column.Max
		}
	}
	f.stroke(points, f.pt(look.width), look.colour, look.dash)
}

// readings draws the cursors, and below the screen what they read.
func (f panel) readings(r vg.Rectangle, g Oscillogram) {
	if len(g.Cursors) == 0 {
		return
	}
	base := r.Max.Y - f.pt(13)
	row := func(c color.Color, cells ...string) {
		x := f.box.Min.X
		for i, cell := range cells {
			f.say(figures, 9, c, x, base, left, cell)
			x += f.pt([]float64{66, 120, 120, 120}[min(i, 3)])
		}
		base -= f.pt(14)
	}
	var values [2][2]float64
	for i, second := range g.Cursors {
		x := f.across(second * 1000)
		f.stroke([]vg.Point{{X: f.snap(x), Y: f.box.Min.Y}, {X: f.snap(x), Y: f.box.Max.Y}}, f.hair, f.Ink.Drawn, dashes[1+i])
		f.say(figures, 8, f.Ink.Drawn, x+f.pt(3), f.box.Max.Y-f.pt(9), left, strconv.Itoa(i+1))
		cells := []string{"cursor " + strconv.Itoa(i+1), span(second)}
		for k, samples := range [][]float64{g.A, g.B} {
			if at := g.First + second*g.Rate; at >= 0 && at <= float64(len(samples)-1) {
				values[i][k] = scope.At(samples, at)
				cells = append(cells, string("AB"[k])+"  "+number(values[i][k], 4))
			}
		}
		row(f.Ink.Drawn, cells...)
	}
	if len(g.Cursors) == 2 {
		apart := g.Cursors[1] - g.Cursors[0]
		cells := []string{"2 \u2212 1", number(apart*1000, 3) + " ms", "A  " + number(values[1][0]-values[0][0], 4)}
		if len(g.B) > 0 {
			cells = append(cells, "B  "+number(values[1][1]-values[0][1], 4))
		}
		if apart != 0 {
			cells = append(cells, "1/t  "+hertz(1/math.Abs(apart)))
		}
		row(f.Ink.Quiet, cells...)
	}
}
