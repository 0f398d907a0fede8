package instruments

import (
	"image"
	"image/color"

	"fyne.io/fyne/v2/canvas"

	"lampblack/app/window/look"
	"lampblack/scope"
)

// picture is a raster with the lines of both channels. Its memory is kept from
// one drawing to the next.
type picture struct {
	raster *canvas.Raster
	image  *image.RGBA
	pens   [channels]*look.Pen
	inks   [channels]color.NRGBA
	// line fills dst with where channel i lies in a picture h pixels high, one
	// column a pixel, from the top; false leaves it out.
	line  func(dst []scope.Column, i, h int) bool
	cols  []scope.Column
	peaks bool // a line that is all peak must not fall between two dashes
}

func newPicture(line func(dst []scope.Column, i, h int) bool) *picture {
	p := &picture{line: line}
	p.raster = canvas.NewRaster(p.draw)
	return p
}

// draw is called by the toolkit with the size in pixels of the screen.
func (p *picture) draw(w, h int) image.Image {
	p.prepare(w, h)
	clear(p.image.Pix)
	width := max(1, float32(w)/p.raster.Size().Width) // of a line, in pixels
	for i := channels - 1; i >= 0; i-- {              // A lies over B
		if p.line(p.cols, i, h) {
			p.pens[i].Width = 1.2 * width
			p.trace(p.pens[i], i == 1, width)
		}
	}
	return p.image
}

func (p *picture) prepare(w, h int) {
	ink := look.Now()
	inks := [channels]color.NRGBA{ink.ProbeA, ink.ProbeB}
	if p.image != nil && p.image.Bounds().Dx() == max(w, 1) && p.image.Bounds().Dy() == max(h, 1) && inks == p.inks {
		return
	}
	p.image, p.inks = look.Canvas(w, h), inks
	p.cols = make([]scope.Column, max(w, 1))
	for i := range p.pens {
		p.pens[i] = look.NewPen(p.image, inks[i])
	}
}

// trace draws the columns. Channel B is dashed, so that the two are told apart
// in black and white: its columns are left out for 3 of every 10 units, but for
// steep ones where the picture keeps peaks.
func (p *picture) trace(pen *look.Pen, dashed bool, unit float32) {
	start := -1
	for c := 0; c <= len(p.cols); c++ {
		off := c == len(p.cols) || p.cols[c].Empty() || dashed && int(float32(c)/unit)%10 >= 7 && !(p.peaks && p.steep(c, unit))
		switch {
		case off && start >= 0:
			p.run(pen, start, c)
			start = -1
		case !off && start < 0:
			start = c
		}
	}
}

// steep tells whether the line rises or falls around column c.
func (p *picture) steep(c int, unit float32) bool {
	for i := max(c-1, 0); i <= min(c+1, len(p.cols)-1); i++ {
		if p.cols[i].Max-p.cols[i].Min > 3*float64(unit) {
			return true
		}
	}
	return false
}

// run fills the band from column a to before column b.
func (p *picture) run(pen *look.Pen, a, b int) {
	half := pen.Width / 2
	for c := a; c < b; c++ {
		x, y := float32(c)+0.5, float32(p.cols[c].Min)-half
		if c == a {
			pen.Move(float32(a), y)
		}
		pen.Line(x, y)
	}
	pen.Line(float32(b), float32(p.cols[b-1].Min)-half)
	for c := b - 1; c >= a; c-- {
		y := float32(p.cols[c].Max) + half
		if c == b-1 {
			pen.Line(float32(b), y)
		}
		pen.Line(float32(c)+0.5, y)
	}
	pen.Line(float32(a), float32(p.cols[a].Max)+half)
	pen.Fill()
}

// scopeLine places a channel of the scope: value 0 in the middle, 8 divisions
// from top to bottom. What lies beyond is drawn at the edge.
func (m *measure) scopeLine(dst []scope.Column, i, h int) bool {
	if !m.connected[i] || len(m.samples[i]) == 0 {
		return false
	}
	scope.Trace(dst, m.samples[i], m.view)
	place := func(v float64) float64 {
		return min(max(float64(h)/2-v/m.switches.value[i]*float64(h)/8, 0), float64(h))
	}
	for c, col := range dst {
		if !col.Empty() {
			dst[c] = scope.Column{Min: place(col.Max), Max: place(col.Min)}
		}
	}
	return true
}

// spectrumLine places a channel of the spectrum: full scale at the top.
func (m *measure) spectrumLine(dst []scope.Column, i, h int) bool {
	if !m.connected[i] || len(m.samples[i]) == 0 {
		return false
	}
	levels := m.levels(len(dst))
	m.spectra[i].Columns(levels, m.rate, m.axis())
	before := 0.0
	for c, db := range levels {
		y := min(max(-db/m.switches.span, 0), 1) * float64(h)
		if c == 0 {
			before = y
		}
		dst[c] = scope.Column{Min: min(y, before), Max: max(y, before)}
		before = y
	}
	return true
}

func (m *measure) levels(n int) []float64 {
	if cap(m.columns) < n {
		m.columns = make([]float64, n)
	}
	return m.columns[:n]
}
