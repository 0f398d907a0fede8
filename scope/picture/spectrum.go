package picture

import (
	"fmt"
	"io"
	"math"

	"gonum.org/v1/plot/vg"

	"lampblack/scope"
)

// The spectrum's picture: what it spans and how it is taken.
const (
	lowest   = 20.  // Hz
	faintest = -120 // dBFS
	longest  = 16384
)

// Spectrum draws the mean spectrum of one or two channels, in dBFS (a full-scale
// sine is 0) against frequency on a logarithmic axis from 20 Hz to half the
// rate, 20 kHz at most. Spectra of up to 16,384 samples overlap by half and are
// averaged by power over the whole length. The strongest lines of the left
// channel bear their frequency and level.
func Spectrum(w io.Writer, s Sound, o Options) error {
	if err := s.checkSpectral(); err != nil {
		return err
	}
	p, err := newPage(o, 1600, 1000)
	if err != nil {
		return err
	}
	p.spectrum(p.sheet(), s)
	return p.finish(w)
}

// audible returns the frequency axis of a sound.
func (s Sound) audible() axis {
	return axis{low: lowest, high: min(20000, float64(s.Rate)/2), logarithmic: true, marks: frequencies{}}
}

func (p *page) spectrum(r vg.Rectangle, s Sound) {
	x := s.audible()
	hz := scope.Axis{Low: x.low, High: x.high, Logarithmic: true}
	method, top := "", 0.0
	n := panel{page: p, box: r}.columns() - int(p.pt(gutter)/p.pixel)
	levels := make([][]float64, len(s.Channels))
	var strongest []scope.Peak
	for c, samples := range s.Channels {
		spectrum, count := meanSpectrum(samples)
		levels[c] = spectrum.Columns(make([]float64, max(n, 16)), float64(s.Rate), hz)
		for _, v := range levels[c] {
			top = max(top, 10*math.Ceil(v/10-0.01))
		}
		if c == 0 {
			method = fmt.Sprintf("mean of %d spectra of %d samples, Blackman-Harris window", count, spectrum.Len())
			strongest = spectrum.Peaks(make([]scope.Peak, 24), float64(s.Rate), faintest)
		}
	}
	marks := evenly(max(2, min(12, int(r.Size().Y/p.pt(13)))))
	f := p.field(r, x, axis{low: faintest, high: top, marks: marks}, names{"Spectrum", "dBFS", method, "Hz", false})
	looks := f.channelLooks()
	for c := range levels {
		points := make([]vg.Point, len(levels[c]))
		for i, v := range levels[c] {
			part := (float64(i) + 0.5) / float64(len(points))
			points[i] = vg.Point{X: f.box.Min.X + vg.Length(part)*f.box.Size().X, Y: f.up(max(v, faintest))}
		}
		f.stroke(points, f.pt(0.8), looks[c].colour, looks[c].dash)
	}
	if len(levels) == 2 {
		f.key("Spectrum", looks...)
	}
	roof := levels[0]
	for i, v := range levels[len(levels)-1] {
		roof[i] = max(roof[i], v)
	}
	f.peaks(strongest, roof)
}

// channelLooks returns how the left and the right channel look in one field.
func (f panel) channelLooks() []keyLine {
	return []keyLine{{"left", f.Ink.Left, nil, 0.9}, {"right", f.Ink.Right, dashes[1], 0.9}}
}

// peaks writes frequency and level over the strongest lines, the strongest first,
// as far as there is room: at most five. levels is the highest that is drawn, from
// the left to the right edge.
func (f panel) peaks(lines []scope.Peak, levels []float64) {
	const size = 8
	var taken []vg.Rectangle
	for _, l := range lines {
		if l.Hz < f.x.low || l.Hz > f.x.high || len(taken) == 5 || l.DB < lines[0].DB-50 {
			continue
		}
		label := hertz(l.Hz) + "  " + number(l.DB, 1)
		at := f.at(l.Hz, l.DB)
		box := f.over(at, f.wide(figures, size, label), f.pt(size), levels)
		beside := box.Max.Y > f.box.Max.Y
		if beside { // there is no room over it
			box = box.Add(vg.Point{X: at.X + f.pt(6) - box.Min.X, Y: f.box.Max.Y - f.pt(1) - box.Max.Y})
		}
		if meets(taken, box, f.pt(4)) || box.Max.X > f.box.Max.X || box.Min.Y > at.Y+f.pt(24) {
			continue
		}
		taken = append(taken, box)
		if beside {
			f.fill(box, f.Ink.Ground) // the trace gives way
		}
		f.circle(at, f.pt(2.4), f.Ink.Drawn)
		f.say(figures, size, f.Ink.Drawn, box.Min.X, box.Min.Y+f.pt(1.5), left, label)
	}
}

// over returns the box of a label that stands clear over the trace, in the middle
// over at.
func (f panel) over(at vg.Point, width, height vg.Length, levels []float64) vg.Rectangle {
	x := min(max(at.X-width/2, f.box.Min.X+f.pt(2)), f.box.Max.X-width)
	column := func(x vg.Length) int {
		return min(max(int(float64((x-f.box.Min.X)/f.box.Size().X)*float64(len(levels))), 0), len(levels)-1)
	}
	y := at.Y
	for _, v := range levels[column(x) : column(x+width)+1] {
		y = max(y, f.up(v))
	}
	y += f.pt(4)
	return vg.Rectangle{Min: vg.Point{X: x, Y: y}, Max: vg.Point{X: x + width, Y: y + height}}
}

// meets reports whether a box comes closer to another than room.
func meets(others []vg.Rectangle, box vg.Rectangle, room vg.Length) bool {
	for _, o := range others {
		if box.Min.X < o.Max.X+room && o.Min.X < box.Max.X+room && box.Min.Y < o.Max.Y+room/2 && o.Min.Y < box.Max.Y+room/2 {
			return true
		}
	}
	return false
}

// hertz writes a frequency with four digits at most.
func hertz(hz float64) string {
	switch {
	case hz >= 10000:
		return number(hz/1000, 2) + " kHz"
	case hz >= 1000:
		return number(hz/1000, 3) + " kHz"
	case hz >= 100:
		return number(hz, 1) + " Hz"
	}
	return number(hz, 2) + " Hz"
}

// meanSpectrum averages the spectra over the whole of samples. Those too short
// for one spectrum end in silence.
func meanSpectrum(samples []float64) (*scope.Spectrum, int) {
	n := longest
	for n > 256 && n > len(samples) {
		n /= 2
	}
	if len(samples) < n {
		samples = append(append([]float64(nil), samples...), make([]float64, n-len(samples))...)
	}
	count := (len(samples)-n)/(n/2) + 1
	s := scope.NewSpectrum(n, scope.BlackmanHarris)
	s.Average(count)
	for i := range count {
		s.Transform(samples[i*n/2:][:n])
	}
	return s, count
}
