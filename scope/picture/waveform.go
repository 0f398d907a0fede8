package picture

import (
	"image/color"
	"io"
	"math"

	"gonum.org/v1/plot/vg"

	"lampblack/scope"
)

// Waveform draws one or two channels against time in seconds, below each other.
// The axis of values reaches to full scale, or further if the signal does. No
// sample is lost: each column of the picture spans all that it stands for.
func Waveform(w io.Writer, s Sound, o Options) error {
	if err := s.check(); err != nil {
		return err
	}
	p, err := newPage(o, 1600, 1000)
	if err != nil {
		return err
	}
	p.waveforms(p.sheet(), s, true)
	return p.finish(w)
}

// waveforms draws the channels of s within r.
func (p *page) waveforms(r vg.Rectangle, s Sound, numbers bool) {
	reach := 1.0
	for _, samples := range s.Channels {
		reach = max(reach, scope.Measure(samples).Peak)
	}
	names := [][]string{{"Waveform"}, {"Waveform, left", "Waveform, right"}}[len(s.Channels)-1]
	for c, samples := range s.Channels {
		part := r
		n := float64(len(s.Channels))
		foot := p.pt(foot)
		if !numbers {
			foot = 0
		}
		height := (r.Size().Y - foot) / vg.Length(n)
		part.Max.Y = r.Max.Y - vg.Length(c)*height
		part.Min.Y = part.Max.Y - height
		last := c == len(s.Channels)-1
		if last {
			part.Min.Y = r.Min.Y
		}
		p.waveform(part, s, samples, waveLook{names[c], c, reach, numbers && last})
	}
}

// waveLook is what tells one channel of a waveform from another.
type waveLook struct {
	name    string
	channel int
	reach   float64 // of the axis, a factor of full scale
	numbers bool    // whether the time axis has any
}

func (p *page) waveform(r vg.Rectangle, s Sound, samples []float64, look waveLook) {
	x := ""
	if look.numbers {
		x = "s"
	}
	l := scope.Measure(samples)
	method := "peak " + level(l.Peak) + ", rms " + level(l.RMS) + " dBFS"
	ink := p.Ink.Left
	if look.channel == 1 {
		ink = p.Ink.Right
	}
	marks := evenly(max(2, min(8, int(r.Size().Y/p.pt(26)))))
	f := p.field(r, s.time(), axis{low: -look.reach, high: look.reach, marks: marks}, names{panel: look.name, method: method, x: x})
	f.line(f.box.Min.X, f.up(0), f.box.Max.X, f.up(0), p.Ink.Line)
	f.outline(samples, ink)
}

// time returns the time axis of a sound, in s. The last sample ends it.
func (s Sound) time() axis {
	return axis{low: s.From, high: s.From + s.Seconds(), marks: evenly(10)}
}

// columns returns how many columns a field is drawn with: one for each pixel,
// and two for a file that may be enlarged.
func (f panel) columns() int {
	n := int(math.Round(float64(f.box.Size().X / f.pixel)))
	if f.image == nil {
		n *= 2
	}
	return max(n, 1)
}

// outline draws the columns of samples: as a line where it can be told from its
// neighbours, else as the area that it fills.
func (f panel) outline(samples []float64, ink color.NRGBA) {
	n := f.columns()
	length := float64(len(samples))
	place := func(part float64) vg.Length { return f.box.Min.X + vg.Length(part)*f.box.Size().X }
	thick := max(f.pt(0.7), f.pixel)
	if length/float64(n) < 4 {
		var points []vg.Point
		for i := range n + 1 {
			at := min(float64(i)/float64(n)*length, length-1)
			points = append(points, vg.Point{X: place(at / length), Y: f.up(scope.At(samples, at))})
		}
		f.stroke(points, max(thick, f.pt(0.9)), ink, nil)
		return
	}
	var upper, lower []vg.Point
	for c, column := range scope.Trace(make([]scope.Column, n), samples, scope.View{Length: length}) {
		if column.Empty() {
			continue
		}
		x := place((float64(c) + 0.5) / float64(n))
		top, bottom := f.up(column.Max), f.up(column.Min)
		if slack := (thick - (top - bottom)) / 2; slack > 0 { // silence is a line, not nothing
			top, bottom = top+slack, bottom-slack
		}
		upper = append(upper, vg.Point{X: x, Y: top})
		lower = append(lower, vg.Point{X: x, Y: bottom})
	}
	if len(upper) > 0 {
		f.area(upper, lower, ink)
	}
}
