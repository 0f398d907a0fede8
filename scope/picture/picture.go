package picture

import (
	"fmt"
	"image/color"
	"io"

	"golang.org/x/image/font/opentype"
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/font/liberation"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgsvg"
)

// Format is the kind of file that a picture becomes.
type Format int

// The formats.
const (
	PNG Format = iota
	SVG
)

// Ink is what a picture is drawn with.
type Ink struct {
	Ground color.Color // what everything stands on
	Drawn  color.Color // words and numbers
	Line   color.Color // axes
	Faint  color.Color // ruling
	Left   color.Color // the trace of the left or only channel
	Right  color.Color // the trace of the right channel
}

// The two inks of the house.
var (
	// Paper is ink on laid paper.
	Paper = Ink{rgb(0xF3ECDD), rgb(0x1B1916), rgb(0x857B6A), rgb(0xDDD3BF), rgb(0xB8341C), rgb(0x1F4E80)}
	// Soot is bone on lampblack.
	Soot = Ink{rgb(0x15130F), rgb(0xECE5D6), rgb(0x7D7566), rgb(0x2A2620), rgb(0xF2694D), rgb(0x79AEE3)}
)

func rgb(hex uint32) color.Color {
	return color.NRGBA{uint8(hex >> 16), uint8(hex >> 8), uint8(hex), 0xFF}
}

// Options say how a picture looks. The zero value is a PNG of 1200 x 400 pixels
// on paper.
type Options struct {
	Format        Format
	Width, Height int    // pixels of 1/96 inch, 200 to 10,000; 0: 1200 and 400
	Ink           *Ink   // nil: Paper
	Font          []byte // OpenType or TrueType; nil: a serif that is always there
	Title         string // over the picture; may be empty
}

// page is a picture in the making.
type page struct {
	Options
	text text.Handler
	face font.Font
}

func newPage(o Options) (*page, error) {
	if o.Width == 0 {
		o.Width = 1200
	}
	if o.Height == 0 {
		o.Height = 400
	}
	if o.Width < 200 || o.Height < 200 || o.Width > 10000 || o.Height > 10000 {
		return nil, fmt.Errorf("the picture is %d x %d pixels; each side must have 200 to 10000; it was not drawn", o.Width, o.Height)
	}
	if o.Ink == nil {
		o.Ink = &Paper
	}
	p := &page{Options: o, face: font.Font{Typeface: "Liberation", Variant: "Serif"}}
	faces := liberation.Collection()
	if o.Font != nil {
		parsed, err := opentype.Parse(o.Font)
		if err != nil {
			return nil, fmt.Errorf("the font of the picture cannot be read; it was not drawn: %w", err)
		}
		p.face = font.Font{Typeface: "Lampblack"}
		faces = font.Collection{{Font: p.face, Face: parsed}}
	}
	p.text = text.Plain{Fonts: font.NewCache(faces)}
	return p, nil
}

// The sizes of words and lines.
const (
	small    = 9.  // points: numbers at the axes
	large    = 12. // points: the title
	hairline = vg.Length(0.6)
	stroke   = vg.Length(0.9)
)

func (p *page) style(size vg.Length, c color.Color) text.Style {
	return text.Style{Color: c, Font: font.From(p.face, size), Handler: p.text}
}

// plot returns an empty plot in the look of the house, with names and units at
// its axes.
func (p *page) plot(title, x, y string) *plot.Plot {
	ink := p.Ink
	pl := plot.New()
	pl.TextHandler = p.text
	pl.BackgroundColor = ink.Ground
	pl.Title.Text, pl.Title.Padding = title, vg.Points(8)
	pl.Title.TextStyle = p.style(large, ink.Drawn)
	pl.Title.TextStyle.XAlign, pl.Title.TextStyle.YAlign = draw.XCenter, draw.YTop
	for _, axis := range []struct {
		*plot.Axis
		name  string
		label text.Style
	}{
		{&pl.X, x, aligned(p.style(small, ink.Drawn), draw.XCenter, draw.YTop)},
		{&pl.Y, y, aligned(p.style(small, ink.Drawn), draw.XRight, draw.YCenter)},
	} {
		axis.Label.Text = axis.name
		axis.Label.TextStyle = aligned(p.style(small, ink.Drawn), draw.XCenter, draw.YBottom)
		axis.Label.Padding = vg.Points(4)
		axis.Color, axis.Width, axis.Padding = ink.Line, hairline, 0
		axis.Tick.Label = axis.label
		axis.Tick.Color, axis.Tick.Width, axis.Tick.Length = ink.Line, hairline, vg.Points(4)
	}
	pl.X.Label.TextStyle.YAlign = draw.YTop
	return pl
}

func aligned(s text.Style, x text.XAlignment, y text.YAlignment) text.Style {
	s.XAlign, s.YAlign = x, y
	return s
}

// write draws plots below each other and writes the file.
func (p *page) write(w io.Writer, plots ...*plot.Plot) error {
	const inch = vg.Inch / 96
	width, height := vg.Length(p.Width)*inch, vg.Length(p.Height)*inch
	var canvas vg.CanvasSizer
	var file io.WriterTo
	switch p.Format {
	case SVG:
		svg := vgsvg.NewWith(vgsvg.UseWH(width, height), vgsvg.EmbedFonts(true))
		canvas, file = svg, svg
	default:
		image := vgimg.NewWith(vgimg.UseWH(width, height), vgimg.UseDPI(96), vgimg.UseBackgroundColor(p.Ink.Ground))
		canvas, file = image, vgimg.PngCanvas{Canvas: image}
	}
	all := draw.New(canvas)
	all.SetColor(p.Ink.Ground)
	all.Fill(all.Rectangle.Path())
	margin := vg.Points(10)
	inner := draw.Crop(all, margin, -margin, margin, -margin)
	rows := make([][]*plot.Plot, len(plots))
	for i := range plots {
		rows[i] = plots[i : i+1]
	}
	for i, row := range plot.Align(rows, draw.Tiles{Rows: len(plots), Cols: 1, PadY: vg.Points(8)}, inner) {
		plots[i].Draw(row[0])
	}
	if _, err := file.WriteTo(w); err != nil {
		return fmt.Errorf("the picture could not be written: %w", err)
	}
	return nil
}

// checkChannels says what is wrong with samples that are to be drawn.
func checkChannels(channels [][]float64, rate int) error {
	switch {
	case rate <= 0:
		return fmt.Errorf("the rate is %d Hz; it must be positive; the picture was not drawn", rate)
	case len(channels) < 1 || len(channels) > 2:
		return fmt.Errorf("there are %d channels; a picture shows 1 or 2; it was not drawn", len(channels))
	case len(channels[0]) == 0 || len(channels[0]) != len(channels[len(channels)-1]):
		return fmt.Errorf("the channels have %d and %d samples; they need at least one, and equally many; the picture was not drawn", len(channels[0]), len(channels[len(channels)-1]))
	}
	return nil
}
