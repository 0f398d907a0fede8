package picture

import (
	"fmt"
	"io"
	"math"

	"gonum.org/v1/plot/vg"

	"lampblack/scope"
)

// rmsSeconds is the stretch of time that a value of the envelope stands for, if a
// column of the picture is not longer.
const rmsSeconds = 0.05

// quietest is the lower end of the envelope's axis, in dBFS.
const quietest = -80.

// Envelope draws the level over time in dBFS: the root mean square over 50 ms
// around each moment (over a column of the picture if that is longer), and
// thinly the highest sample within the same time. A full-scale sine is -3.0 by the
// first and 0 by the second.
func Envelope(w io.Writer, s Sound, o Options) error {
	if err := s.check(); err != nil {
		return err
	}
	p, err := newPage(o, 1600, 1000)
	if err != nil {
		return err
	}
	p.envelope(p.sheet(), s, true)
	return p.finish(w)
}

func (p *page) envelope(r vg.Rectangle, s Sound, numbers bool) {
	top := 0.0
	for _, samples := range s.Channels {
		if peak := scope.Measure(samples).Peak; peak > 1 {
			top = max(top, 10*math.Ceil(2*math.Log10(peak)))
		}
	}
	x := ""
	if numbers {
		x = "s"
	}
	y := axis{low: quietest, high: top, marks: evenly(max(2, min(10, int(r.Size().Y/p.pt(13)))))}
	f := p.field(r, s.time(), y, names{panel: "Envelope", unit: "dBFS", x: x})
	n := f.columns()
	window := max(rmsSeconds, s.Seconds()/float64(n))
	looks := f.channelLooks()
	for c, samples := range s.Channels {
		f.stroke(f.levels(peaks(samples, n, window*float64(s.Rate))), f.pt(0.5), f.Ink.thin(looks[c].colour), looks[c].dash)
	}
	for c, samples := range s.Channels {
		f.stroke(f.levels(rms(samples, n, window*float64(s.Rate))), f.pt(1.1), looks[c].colour, looks[c].dash)
	}
	if len(s.Channels) == 2 {
		f.key("Envelope", looks...)
	}
	f.say(text, 8, p.Ink.Quiet, f.box.Max.X, f.box.Max.Y+f.pt(6), right, fmt.Sprintf("rms over %s; thin: peak within it", span(window)))
}

// levels places factors of full scale, one for each column.
func (f panel) levels(factors []float64) []vg.Point {
	points := make([]vg.Point, len(factors))
	for i, x := range factors {
		part := (float64(i) + 0.5) / float64(len(factors))
		points[i] = vg.Point{X: f.box.Min.X + vg.Length(part)*f.box.Size().X, Y: f.up(max(scope.DB(x), f.y.low))}
	}
	return points
}

// peaks returns the largest magnitude within width samples around the middle of
// each column, and of the column at least: that of the samples themselves.
func peaks(samples []float64, columns int, width float64) []float64 {
	own := make([]float64, columns)
	for c := range own {
		from, to := c*len(samples)/columns, (c+1)*len(samples)/columns
		own[c] = scope.Measure(samples[from:max(to, from+1)]).Peak
	}
	side := int(width/2*float64(columns)/float64(len(samples)) + 0.5)
	highest := make([]float64, columns)
	for c := range highest {
		for _, x := range own[max(0, c-side):min(columns, c+side+1)] {
			highest[c] = max(highest[c], x)
		}
	}
	return highest
}

// rms returns the root mean square over width samples around the middle of each
// column; at the ends over those that there are.
func rms(samples []float64, columns int, width float64) []float64 {
	values := make([]float64, columns)
	for c := range values {
		middle := (float64(c) + 0.5) * float64(len(samples)) / float64(columns)
		from := max(0, int(middle-width/2))
		to := min(len(samples), max(from+1, int(math.Ceil(middle+width/2))))
		values[c] = scope.Measure(samples[from:to]).RMS
	}
	return values
}
