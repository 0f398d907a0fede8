package picture

import (
	"fmt"
	"io"
	"math"

	"gonum.org/v1/plot/vg"

	"lampblack/scope"
)

// mostPoints bounds the points of an X-Y picture; a longer signal is drawn with
// steps between.
const mostPoints = 20000

// XY draws one signal against another: probe A across, probe B up, on a square
// whose sides are the same scale; equal signals make a line that rises by 45
// degrees. Its reach is full scale, or further if a signal is. The correlation,
// -1 to +1, stands above it.
func XY(w io.Writer, a, b []float64, nameA, nameB string, o Options) error {
	if len(a) < 2 || len(a) != len(b) {
		return fmt.Errorf("probe A has %d samples and B %d; they need two at least, and equally many; the picture was not drawn", len(a), len(b))
	}
	p, err := newPage(o, 1000, 1000)
	if err != nil {
		return err
	}
	r := p.sheet()
	width, height := r.Size().X-p.pt(gutter), r.Size().Y-p.pt(head+foot)
	if spare := width - height; spare > 0 {
		r.Min.X, r.Max.X = r.Min.X+spare/2, r.Max.X-spare/2
	} else {
		r.Min.Y -= spare
	}
	reach := max(1, scope.Measure(a).Peak, scope.Measure(b).Peak)
	side := axis{low: -reach, high: reach, marks: evenly(8)}
	f := p.field(r, side, side, names{"X\u2013Y", nameB, "correlation " + number(correlation(a, b), 2), nameA, false})
	f.line(f.across(0), f.box.Min.Y, f.across(0), f.box.Max.Y, p.Ink.Line)
	f.line(f.box.Min.X, f.up(0), f.box.Max.X, f.up(0), p.Ink.Line)
	step := float64(len(a)-1) / float64(min(mostPoints, 8*len(a)))
	var points []vg.Point
	for at := 0.0; at <= float64(len(a)-1); at += step {
		points = append(points, f.at(scope.At(a, at), scope.At(b, at)))
	}
	// In pieces: one path that crosses itself a thousand times takes seconds to fill.
	for i := 0; i+1 < len(points); i += 50 {
		f.stroke(points[i:min(i+51, len(points))], f.pt(0.7), p.Ink.Left, nil)
	}
	return p.finish(w)
}

// correlation returns the mean product of two signals over the root of their mean
// squares; 0 if one is silent.
func correlation(a, b []float64) float64 {
	var product float64
	for i := range a {
		product += a[i] * b[i]
	}
	whole := scope.Measure(a).RMS * scope.Measure(b).RMS * float64(len(a))
	if whole == 0 || math.IsInf(whole, 0) {
		return 0
	}
	return product / whole
}
