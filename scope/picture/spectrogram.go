package picture

import (
	"fmt"
	"image"
	"io"
	"math"
	"runtime"
	"sync"

	"gonum.org/v1/plot/vg"

	"lampblack/scope"
)

// depth is how far below the strongest line a spectrogram reaches, in dB.
const depth = 90

// shades is how many steps the ink of a spectrogram has.
const shades = 256

// Spectrogram draws how strong each frequency is at each time, in dBFS (a
// full-scale sine is 0), on a logarithmic axis from 20 Hz to 20 kHz or half the
// rate; the scale beside it tells what a shade means. Two channels stand below
// each other. The spectra are those of 85 ms with a Hann window, fewer in a short
// sound, and overlap by half or more: nothing falls between two of them, and a
// column shows the highest level of its stretch of time. Movements of controls
// are drawn over it.
func Spectrogram(w io.Writer, s Sound, moves []Move, o Options) error {
	if err := s.checkSpectral(); err != nil {
		return err
	}
	p, err := newPage(o, 1600, 1000)
	if err != nil {
		return err
	}
	r := p.sheet()
	if len(s.Channels) == 1 {
		p.spectrogram(r, s, moves, spectrogramLook{name: "Spectrogram", numbers: true})
		return p.finish(w)
	}
	upper, lower := r, r
	upper.Min.Y = r.Min.Y + (r.Size().Y+p.pt(foot)+p.pt(5))/2
	lower.Max.Y = upper.Min.Y - p.pt(5)
	names := [...]string{"Spectrogram, left", "Spectrogram, right"}
	var fields [2]panel
	var graphs [2]graph
	for c, part := range []vg.Rectangle{upper, lower} {
		one := Sound{s.Channels[c : c+1], s.Rate, s.From}
		fields[c], graphs[c] = p.measured(part, one, spectrogramLook{name: names[c], numbers: c == 1})
	}
	top := max(graphs[0].top(), graphs[1].top()) // the same shade is the same level in both
	for c, f := range fields {
		f.shaded(graphs[c], top, moves, spectrogramLook{name: names[c], numbers: c == 1})
	}
	return p.finish(w)
}

// spectrogramLook is what tells one spectrogram from another.
type spectrogramLook struct {
	name    string
	numbers bool // whether the time axis has any
	compact bool // the scale of shades lies over the field, not beside it
}

// spectrogram draws the louder of all channels at each place.
func (p *page) spectrogram(r vg.Rectangle, s Sound, moves []Move, look spectrogramLook) {
	f, g := p.measured(r, s, look)
	f.shaded(g, g.top(), moves, look)
}

// labels returns the words around a spectrogram.
func (look spectrogramLook) labels() names {
	n := names{panel: look.name, unit: "Hz", noRules: true}
	if look.numbers {
		n.x = "s"
	}
	return n
}

// measured returns the field of a spectrogram within r and what is to be drawn
// there.
func (p *page) measured(r vg.Rectangle, s Sound, look spectrogramLook) (panel, graph) {
	if !look.compact {
		r.Max.X -= p.pt(40)
	}
	f := p.field(r, s.time(), s.audible(), look.labels())
	return f, newGraph(f.columns(), f.rows(), s)
}

// shaded draws what was measured; top is the level of the strongest shade.
func (f panel) shaded(g graph, top float64, moves []Move, look spectrogramLook) {
	f.DrawImage(f.box, g.picture(*f.Ink, top))
	f.ruling(look.labels()) // the axes stand before the picture
	used := f.moves(look.name, moves)
	base := f.box.Max.Y + f.pt(6)
	if look.compact {
		f.shadesOver(base, top)
		return
	}
	method := fmt.Sprintf("%d samples (%s), Hann window", g.window, span(float64(g.window)/float64(g.rate)))
	f.say(text, 8, f.Ink.Quiet, f.box.Max.X, base, right, f.fit(text, 8, method, f.box.Max.X-used))
	f.shadesBeside(f.besideField(), top-depth, top)
}

func (f panel) rows() int {
	return max(1, min(1200, int(math.Round(float64(f.box.Size().Y/f.pixel)))))
}

// graph is the level of each frequency at each time.
type graph struct {
	columns, rows int
	window, rate  int       // samples of each spectrum, and a second
	level         []float64 // dBFS, column by column, from the lowest frequency on
}

// windowFor returns how many samples a spectrum of a spectrogram takes: the power
// of two nearest to 85 ms, or a sixteenth of a short sound.
func windowFor(rate, length int) int {
	n := 64
	for float64(n)*math.Sqrt2 < 0.0853*float64(rate) && n*16 < length {
		n *= 2
	}
	return n
}

// newGraph measures a sound; every processor takes a share of the columns.
func newGraph(columns, rows int, s Sound) graph {
	length := len(s.Channels[0])
	g := graph{columns, rows, windowFor(s.Rate, length), s.Rate, make([]float64, columns*rows)}
	workers := min(runtime.GOMAXPROCS(0), columns)
	var all sync.WaitGroup
	for k := range workers {
		all.Go(func() { g.measure(s, k*columns/workers, (k+1)*columns/workers) })
	}
	all.Wait()
	return g
}

// measure fills the columns from first on.
func (g graph) measure(s Sound, first, after int) {
	spectrum := scope.NewSpectrum(g.window, scope.Hann)
	hz := s.audible()
	a := scope.Axis{Low: hz.low, High: hz.high, Logarithmic: true}
	window, levels := make([]float64, g.window), make([]float64, g.rows)
	width := float64(len(s.Channels[0])) / float64(g.columns)
	spectra := int(math.Ceil(width / float64(g.window/2)))
	for c := first; c < after; c++ {
		column := g.level[c*g.rows:][:g.rows]
		for i := range column {
			column[i] = scope.Floor
		}
		for i := range spectra {
			middle := int((float64(c) + (float64(i)+0.5)/float64(spectra)) * width)
			for _, samples := range s.Channels {
				cut(window, samples, middle-g.window/2)
				spectrum.Transform(window)
				for row, v := range spectrum.Columns(levels, float64(s.Rate), a) {
					column[row] = max(column[row], v)
				}
			}
		}
	}
}

// cut copies samples from first on into dst; there is silence around them.
func cut(dst, samples []float64, first int) {
	clear(dst)
	if from, to := max(first, 0), min(first+len(dst), len(samples)); from < to {
		copy(dst[from-first:], samples[from:to])
	}
}

// top returns the level of the darkest shade: the highest level, rounded up to
// 5 dB; 0 for silence.
func (g graph) top() float64 {
	highest := scope.Floor
	for _, v := range g.level {
		highest = max(highest, v)
	}
	if highest <= scope.Floor {
		return 0
	}
	return 5 * math.Ceil(highest/5-0.01)
}

// picture turns levels into shades between the ground and the ink.
func (g graph) picture(ink Ink, top float64) image.Image {
	img := image.NewPaletted(image.Rect(0, 0, g.columns, g.rows), palette(ink))
	for c := range g.columns {
		for r, v := range g.level[c*g.rows:][:g.rows] {
			part := min(max((v-top+depth)/depth, 0), 1)
			img.Pix[(g.rows-1-r)*img.Stride+c] = uint8(part*(shades-1) + 0.5)
		}
	}
	return img
}
