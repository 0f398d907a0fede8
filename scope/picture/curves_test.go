package picture

import (
	"bytes"
	"io"
	"math"
	"strings"
	"testing"
)

// A first-order low-pass is 10 log10(1 + (f/fc)^2) down (handbook): its line
// stands where the axes say, by the definition of a logarithmic axis.
func TestCurvesStandOnTheirAxes(t *testing.T) {
	var line []Place
	for i := range 301 {
		hz := 20 * math.Pow(1000, float64(i)/300)
		line = append(line, Place{hz, -10 * math.Log10(1+hz*hz/1e6)})
	}
	field := Field{Name: "Response", X: Side{20, 20000, true, "Hz"}, Y: Side{-36, 12, false, "dB"}, Lines: []Drawn{{Name: "computed", Places: line}}, Rings: []Place{{1000, -3.0103}}, RingName: "measured"}
	s := asSVG(t, func(w io.Writer, o Options) error { return Curves(w, []Field{field}, o) }, Options{})
	points := s.trace(t, Paper.Drawn)
	first, last := points[0], points[len(points)-1]
	left, width := first[0], last[0]-first[0]
	perDB := (first[1] - last[1]) / (line[0].Y - line[300].Y)
	for i := range points {
		if want := left + width*float64(i)/300; math.Abs(points[i][0]-want) > 0.1 { // the file has two digits
			t.Fatalf("point %d stands at %.2f pt, want %.2f", i, points[i][0], want)
		}
		if want := first[1] + perDB*(line[i].Y-line[0].Y); math.Abs(points[i][1]-want) > 0.1 { // the file has two digits
			t.Fatalf("point %d stands at %.2f pt, want %.2f", i, points[i][1], want)
		}
	}
	if !s.says("Response") || !s.says("computed") || !s.says("measured") || !s.says("Hz") {
		t.Errorf("it says %q", s.texts)
	}
}

func TestCurvesThatCannotBeDrawnAreRefused(t *testing.T) {
	good := Field{Name: "x", X: Side{0, 1, false, "s"}, Y: Side{0, 1, false, ""}}
	for _, c := range []struct {
		name   string
		fields []Field
	}{
		{"none", nil},
		{"five", []Field{good, good, good, good, good}},
		{"a level axis", []Field{{X: Side{1, 1, false, ""}, Y: good.Y}}},
		{"0 Hz on a logarithmic axis", []Field{{X: Side{0, 1, true, ""}, Y: good.Y}}},
		{"no such dash", []Field{{X: good.X, Y: good.Y, Lines: []Drawn{{Dash: 9}}}}},
	} {
		var file bytes.Buffer
		if err := Curves(&file, c.fields, Options{}); err == nil || !strings.Contains(err.Error(), "not drawn") || file.Len() > 0 {
			t.Errorf("%s: %v, %d bytes", c.name, err, file.Len())
		}
	}
}
