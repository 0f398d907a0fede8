package picture

import (
	"fmt"
	"image/color"
	"io"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"

	"lampblack/scope"
)

// OverFrequency is what a picture of values over frequency shows: spectra as an
// instrument has them, a difference, a response. The numbers are the caller's.
type OverFrequency struct {
	Name, Unit string     // over the picture: "Spectrum", "dBFS"
	Method     string     // how it was measured
	Axis       scope.Axis // of frequency, in Hz
	Low, High  float64    // of the upright axis, in Unit
	Zero       bool       // the line at 0 is drawn stronger
	Curves     []Spread   // at most four; they differ by dash
	Peaks      []scope.Peak
}

// Spread is a curve whose values stand evenly along the frequency axis, the
// first in the middle of the first of so many columns. NaN breaks it.
type Spread struct {
	Name   string
	Values []float64 // in the picture's unit
	Look   Role
}

// Role is what a curve stands for; it has its colour by it.
type Role int

// The roles of curves.
const (
	OfA      Role = iota // probe A, the left channel
	OfB                  // probe B, the right channel
	OfBoth               // made of both
	OfBefore             // what was kept or held
)

// Over draws curves over frequency.
func Over(w io.Writer, g OverFrequency, o Options) error {
	switch {
	case !(g.Axis.High > g.Axis.Low) || !(g.Axis.Low >= 0) || g.Axis.Logarithmic && g.Axis.Low == 0 || math.IsInf(g.Axis.High, 0):
		return fmt.Errorf("the frequency axis goes from %g to %g Hz; it must rise; the picture was not drawn", g.Axis.Low, g.Axis.High)
	case !(g.High > g.Low):
		return fmt.Errorf("the upright axis goes from %g to %g %s; it must rise; the picture was not drawn", g.Low, g.High, g.Unit)
	case len(g.Curves) > len(dashes):
		return fmt.Errorf("there are %d curves; a picture shows %d; it was not drawn", len(g.Curves), len(dashes))
	}
	p, err := newPage(o, 1600, 1000)
	if err != nil {
		return err
	}
	p.over(p.sheet(), g)
	return p.finish(w)
}

func (p *page) over(r vg.Rectangle, g OverFrequency) {
	y := axis{low: g.Low, high: g.High, marks: evenly(max(2, min(12, int(r.Size().Y/p.pt(22)))))}
	f := p.field(r, frequencyAxis(g.Axis), y, names{g.Name, g.Unit, g.Method, "Hz", false})
	if g.Zero && g.Low < 0 && g.High > 0 {
		f.line(f.box.Min.X, f.up(0), f.box.Max.X, f.up(0), f.Ink.Line)
	}
	var looks []keyLine
	for i, c := range g.Curves {
		look := keyLine{c.Name, f.inkOf(c.Look), dashes[i], 0.9}
		for _, part := range f.spread(c.Values) {
			f.stroke(part, f.pt(look.width), look.colour, look.dash)
		}
		looks = append(looks, look)
	}
	f.key(g.Name, looks...)
	if len(g.Peaks) > 0 && len(g.Curves) > 0 {
		f.peaks(g.Peaks, highestOf(g.Curves))
	}
}

// inkOf returns the colour of a role.
func (p *page) inkOf(r Role) color.NRGBA {
	switch r {
	case OfA:
		return p.Ink.Left
	case OfB:
		return p.Ink.Right
	case OfBefore:
		return p.Ink.Quiet
	}
	return p.Ink.Drawn
}

// spread places values that stand evenly along the field. What lies beyond it
// lies on its edge.
func (f panel) spread(values []float64) (parts [][]vg.Point) {
	var part []vg.Point
	for i, v := range values {
		if math.IsNaN(v) {
			parts, part = append(parts, part), nil
			continue
		}
		at := (float64(i) + 0.5) / float64(len(values))
		part = append(part, vg.Point{X: f.box.Min.X + vg.Length(at)*f.box.Size().X, Y: f.up(min(max(v, f.y.low), f.y.high))})
	}
	return append(parts, part)
}

// highestOf returns the highest of all curves at each place.
func highestOf(curves []Spread) []float64 {
	roof := append([]float64(nil), curves[0].Values...)
	for _, c := range curves[1:] {
		for i, v := range c.Values {
			if i < len(roof) {
				roof[i] = max(roof[i], v)
			}
		}
	}
	return roof
}

// frequencyAxis returns the axis of a picture for that of an instrument.
func frequencyAxis(a scope.Axis) axis {
	if a.Logarithmic {
		return axis{low: a.Low, high: a.High, logarithmic: true, marks: frequencies{}}
	}
	return axis{low: a.Low, high: a.High, marks: evenHertz{}}
}

// evenHertz puts marks at every thousand or so, on an axis of Hz that is not
// logarithmic.
type evenHertz struct{}

// Ticks implements plot.Ticker.
func (evenHertz) Ticks(low, high float64) []plot.Tick {
	ticks := evenly(12).Ticks(low, high)
	for i := range ticks {
		ticks[i].Label = short(ticks[i].Value)
	}
	return ticks
}
