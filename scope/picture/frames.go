package picture

import (
	"fmt"
	"image"
	"io"
	"math"

	"gonum.org/v1/plot/vg"

	"lampblack/scope"
)

// Frames is a spectrogram as an instrument has it.
type Frames struct {
	Levels     [][]float32 // dBFS; a column each, the oldest first, from the lowest frequency up; nil is blank
	From, To   float64     // s at the left and at the right edge
	Axis       scope.Axis  // of frequency, in Hz; the levels of a column lie evenly along it
	Top, Depth float64     // dBFS of the strongest shade, and how far below it there is none, in dB
	Method     string      // how it was measured
}

// Shades draws a spectrogram that was measured already, and over it what moves.
func Shades(w io.Writer, g Frames, moves []Move, o Options) error {
	switch {
	case !(g.To > g.From):
		return fmt.Errorf("the time axis goes from %g to %g s; it must rise; the picture was not drawn", g.From, g.To)
	case !(g.Axis.High > g.Axis.Low) || !(g.Axis.Low >= 0) || g.Axis.Logarithmic && g.Axis.Low == 0 || math.IsInf(g.Axis.High, 0):
		return fmt.Errorf("the frequency axis goes from %g to %g Hz; it must rise; the picture was not drawn", g.Axis.Low, g.Axis.High)
	case !(g.Depth > 0):
		return fmt.Errorf("the shades span %g dB; they must span some; the picture was not drawn", g.Depth)
	}
	p, err := newPage(o, 1600, 1000)
	if err != nil {
		return err
	}
	r := p.sheet()
	r.Max.X -= p.pt(40)
	n := names{panel: "Spectrogram", unit: "Hz", x: "s", noRules: true}
	f := p.field(r, axis{low: g.From, high: g.To, marks: evenly(10)}, frequencyAxis(g.Axis), n)
	if img := g.image(*p.Ink); img != nil {
		f.DrawImage(f.box, img)
		f.ruling(n) // the axes stand before the picture
	}
	used := f.moves(n.panel, moves)
	f.say(text, 8, f.Ink.Quiet, f.box.Max.X, f.box.Max.Y+f.pt(6), right, f.fit(text, 8, g.Method, f.box.Max.X-used))
	f.shadesBeside(f.besideField(), g.Top-g.Depth, g.Top)
	return p.finish(w)
}

// besideField is where the scale of shades stands.
func (f panel) besideField() vg.Rectangle {
	return vg.Rectangle{Min: vg.Point{X: f.box.Max.X + f.pt(10), Y: f.box.Min.Y}, Max: vg.Point{X: f.box.Max.X + f.pt(18), Y: f.box.Max.Y}}
}

// image turns levels into shades between the ground and the ink; nil if there are
// no levels.
func (g Frames) image(ink Ink) image.Image {
	rows := 0
	for _, column := range g.Levels {
		rows = max(rows, len(column))
	}
	if rows == 0 {
		return nil
	}
	img := image.NewPaletted(image.Rect(0, 0, len(g.Levels), rows), palette(ink))
	for c, column := range g.Levels {
		for r, v := range column {
			part := min(max((float64(v)-g.Top+g.Depth)/g.Depth, 0), 1)
			img.Pix[(rows-1-r)*img.Stride+c] = uint8(part*(shades-1) + 0.5)
		}
	}
	return img
}
