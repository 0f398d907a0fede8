package picture

import (
	"fmt"
	"image/png"
	"io"
	"math"

	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgsvg"
)

// Format is the kind of file that a picture becomes.
type Format int

// The formats.
const (
	PNG Format = iota
	SVG
	PDF
)

// The sides that a picture may have, in pixels.
const (
	MinSide = 200
	MaxSide = 10000
)

// How large words may be, as parts of their usual size.
const (
	MinText = 0.5
	MaxText = 3
)

// Options say how a picture looks. The zero value is a PNG of 1600 x 1000 pixels
// on paper (a Summary: A4, upright).
type Options struct {
	Format        Format
	Width, Height int     // pixels of 1/96 inch, MinSide to MaxSide; 0: see above
	Ink           *Ink    // nil: Paper
	Text          float64 // how many times as large as usual words and lines are, MinText to MaxText; 0 is 1
	Title         string  // over the picture; may be empty
	Aside         string  // to the right of the title, quieter; may be empty
}

// Sound is a stretch of sound to be drawn.
type Sound struct {
	Channels [][]float64 // 1 or 2, equally long, +-1 is full scale
	Rate     int         // samples a second
	From     float64     // what the time axis says at the first sample, in s
}

// Seconds returns how long the sound is.
func (s Sound) Seconds() float64 { return float64(len(s.Channels[0])) / float64(s.Rate) }

// check says what is wrong with a sound that is to be drawn.
func (s Sound) check() error {
	switch c := s.Channels; {
	case s.Rate <= 0:
		return fmt.Errorf("the rate is %d Hz; it must be positive; the picture was not drawn", s.Rate)
	case len(c) < 1 || len(c) > 2:
		return fmt.Errorf("there are %d channels; a picture shows 1 or 2; it was not drawn", len(c))
	case len(c[0]) == 0 || len(c[0]) != len(c[len(c)-1]):
		return fmt.Errorf("the channels have %d and %d samples; they need at least one, and equally many; the picture was not drawn", len(c[0]), len(c[len(c)-1]))
	case !(math.Abs(s.From) < 1e6):
		return fmt.Errorf("the sound begins at %g s; that must be within a million seconds; the picture was not drawn", s.From)
	}
	for _, samples := range s.Channels {
		for i, x := range samples {
			if !(math.Abs(x) <= loudest) {
				return fmt.Errorf("sample %d is %g; it must be a number within ±%g; the picture was not drawn", i, x, loudest)
			}
		}
	}
	return nil
}

// loudest is the largest sample that is drawn: 120 dB over full scale. Beyond it
// is no sound, but a fault of what made it.
const loudest = 1e6

// checkSpectral is check for what is drawn against frequency.
func (s Sound) checkSpectral() error {
	if err := s.check(); err != nil {
		return err
	}
	if s.Rate < 100 {
		return fmt.Errorf("the rate is %d Hz; a picture from %g Hz on needs 100 Hz or more; it was not drawn", s.Rate, lowest)
	}
	return nil
}

// page is a picture in the making.
type page struct {
	Options
	vg.Canvas
	file  io.WriterTo // nil: a PNG
	image *vgimg.Canvas
	faces *font.Cache
	size  float64   // how much larger than at 1280 x 800 everything is
	pixel vg.Length // one pixel
	hair  vg.Length // the width of a hairline

	said []saying // all that was said, in this order
}

const inch = vg.Inch / 96

// newPage returns an empty page; width and height are for Options that say none.
func newPage(o Options, width, height int) (*page, error) {
	if o.Width == 0 {
		o.Width = width
	}
	if o.Height == 0 {
		o.Height = height
	}
	if o.Width < MinSide || o.Height < MinSide || o.Width > MaxSide || o.Height > MaxSide {
		return nil, fmt.Errorf("the picture is %d x %d pixels; each side must have %d to %d; it was not drawn", o.Width, o.Height, MinSide, MaxSide)
	}
	if o.Text == 0 {
		o.Text = 1
	}
	if !(o.Text >= MinText && o.Text <= MaxText) {
		return nil, fmt.Errorf("words are to be %g times as large as usual; they can be %g to %g times as large; the picture was not drawn", o.Text, MinText, float64(MaxText))
	}
	if o.Ink == nil {
		o.Ink = &Paper
	}
	faces, err := houseFonts()
	if err != nil {
		return nil, err
	}
	p := &page{Options: o, faces: faces, pixel: inch}
	p.size = max(1, math.Sqrt(float64(o.Width)*float64(o.Height)/(1280*800)))
	if narrow := float64(min(o.Width, 2*o.Height)) / 560; narrow < p.size {
		p.size = max(0.6, narrow) // words must not eat up a small or a narrow picture
	}
	p.size *= o.Text
	w, h := vg.Length(o.Width)*inch, vg.Length(o.Height)*inch
	p.hair = p.pt(0.5)
	switch o.Format {
	case SVG:
		c := vgsvg.NewWith(vgsvg.UseWH(w, h), vgsvg.EmbedFonts(true))
		p.Canvas, p.file = c, c
	case PDF:
		c := newPDF(w, h, o.Title)
		p.Canvas, p.file = c, c
	default:
		p.image = vgimg.NewWith(vgimg.UseWH(w, h), vgimg.UseDPI(96), vgimg.UseBackgroundColor(o.Ink.Ground))
		p.Canvas = p.image
		p.hair = max(1, vg.Length(math.Round(p.size*0.75))) * inch
	}
	p.fill(p.whole(), o.Ink.Ground)
	return p, nil
}

// pt returns a length that grows with the picture.
func (p *page) pt(points float64) vg.Length { return vg.Length(points * p.size) }

// whole returns the page from edge to edge.
func (p *page) whole() vg.Rectangle {
	return vg.Rectangle{Max: vg.Point{X: vg.Length(p.Width) * inch, Y: vg.Length(p.Height) * inch}}
}

// sheet draws the title, if there is one, and returns what is left within the
// margins.
func (p *page) sheet() vg.Rectangle {
	margin := p.pt(26)
	r := p.whole()
	r.Min.X, r.Min.Y, r.Max.X, r.Max.Y = r.Min.X+margin, r.Min.Y+margin*0.8, r.Max.X-margin, r.Max.Y-margin*0.8
	if p.Title == "" && p.Aside == "" {
		return r
	}
	base := r.Max.Y - p.pt(11)
	aside := p.fit(text, 9, p.Aside, r.Size().X/2)
	width := p.say(text, 9, p.Ink.Quiet, r.Max.X, base, right, aside)
	p.say(caps, 14, p.Ink.Drawn, r.Min.X, base, left, p.fit(caps, 14, p.Title, r.Size().X-width-p.pt(16)))
	p.rule(r.Min.X, r.Max.X, base-p.pt(8), p.Ink.Line)
	r.Max.Y = base - p.pt(18)
	return r
}

// finish writes the file.
func (p *page) finish(w io.Writer) error {
	var err error
	switch p.Format {
	case SVG:
		err = p.finishSVG(w)
	case PDF:
		_, err = p.file.WriteTo(w)
	default:
		quick := png.Encoder{CompressionLevel: png.BestSpeed}
		err = quick.Encode(w, p.image.Image())
	}
	if err != nil {
		return fmt.Errorf("the picture could not be written: %w", err)
	}
	return nil
}
