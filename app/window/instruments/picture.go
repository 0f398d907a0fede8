package instruments

import (
	"image"
	"image/color"
	"math"

	"fyne.io/fyne/v2/canvas"

	"lampblack/app/window/calm"
	"lampblack/app/window/look"
	"lampblack/scope"
)

// fine is how many columns of the line are drawn into one of pixels: a steep
// line is smooth, too.
const fine = 3

// The lines of a picture after those of the two channels. What is drawn first
// lies below.
const (
	under  = channels            // what was kept or held, of each channel
	beside = channels + channels // the difference of the two
	lines  = beside + 1
)

// picture is a raster with the lines of both channels. Its memory is kept from
// one drawing to the next.
type picture struct {
	raster *canvas.Raster
	image  *image.RGBA
	inks   [lines]color.NRGBA
	// line fills dst with where line i lies in a picture h pixels high,
	// counted in pixels from the top; false leaves it out.
	line  func(dst []scope.Column, i, h int) bool
	paint func(p *picture, unit float64) // what lies below the lines; may be nil
	cols  []scope.Column
	cover []float64 // of one column of pixels
	calm  calm.Guard
	peaks bool // a line that is all peak must not fall between two dashes
}

func newPicture(line func(dst []scope.Column, i, h int) bool) *picture {
	p := &picture{line: line}
	p.raster = look.NewRaster(p.draw)
	return p
}

// draw is called by the toolkit with the size in pixels of the screen.
func (p *picture) draw(w, h int) image.Image {
	fresh := p.prepare(w, h)
	if !fresh && p.calm.Waits(calm.Clock()) {
		return p.image // what is drawn would flash: it waits
	}
	clear(p.image.Pix)
	width := max(1, float32(w)/max(p.raster.Size().Width, 1)) // of a unit, in pixels
	defer func() { p.calm.Saw(p.image, look.Now().Ground, float64(width), calm.Clock()) }()
	if p.paint != nil {
		p.paint(p, float64(width))
	}
	for i := lines - 1; i >= 0; i-- { // A lies over B
		if p.line(p.cols, i, h) {
			p.trace(p.inks[i], dashes[i], width)
		}
	}
	return p.image
}

// late draws what has waited.
func (p *picture) late() {
	if p.calm.Late(calm.Clock()) {
		p.raster.Refresh()
	}
}

// prepare makes room for a picture of that size; it reports whether it had to.
func (p *picture) prepare(w, h int) bool {
	ink := look.Now()
	inks := [lines]color.NRGBA{ink.ProbeA, ink.ProbeB, ink.Line, ink.Line, ink.Drawn}
	if p.image != nil && p.image.Bounds().Dx() == max(w, 1) && p.image.Bounds().Dy() == max(h, 1) && inks == p.inks {
		return false
	}
	p.image, p.inks = look.Canvas(w, h), inks
	p.cols = make([]scope.Column, max(w, 1)*fine)
	p.cover = make([]float64, max(h, 1))
	return true
}

// dash is a pattern of a line: of every period units those are drawn that a bit
// stands for.
type dash struct {
	period int
	drawn  uint32
}

// dashes tell the lines apart in black and white: A is full, B dashed, what was
// kept of A dotted, what was kept of B dashed and dotted.
var dashes = [lines]dash{1: {10, 0b0001111111}, under: {4, 0b0011}, under + 1: {14, 0b00110001111111}}

// trace draws the columns, but for those that a dash leaves out: steep ones are
// drawn in any case where the picture keeps peaks.
func (p *picture) trace(ink color.NRGBA, d dash, unit float32) {
	for c := range p.image.Bounds().Dx() {
		if d.period > 0 && d.drawn>>(int(float32(c)/unit)%d.period)&1 == 0 && !(p.peaks && p.steep(c, unit)) {
			continue
		}
		p.column(c, ink, 1.2*float64(unit))
	}
}

// steep tells whether the line rises or falls around column c.
func (p *picture) steep(c int, unit float32) bool {
	from, to := max((c-1)*fine, 0), min((c+2)*fine, len(p.cols))
	least, most := math.Inf(1), math.Inf(-1)
	for _, col := range p.cols[from:to] {
		least, most = min(least, col.Min), max(most, col.Max)
	}
	return most-least > 4*float64(unit)
}

// column draws what lies in column c of pixels, width thick. A pixel gets as
// much ink as it is covered: the line is smooth wherever it runs, and a frame
// costs no more than its line.
func (p *picture) column(c int, ink color.NRGBA, width float64) {
	height := len(p.cover)
	first, last := height, 0
	for k := c * fine; k < (c+1)*fine; k++ {
		top, bottom, ok := p.stroke(k, width/2)
		if !ok {
			continue
		}
		from, to := max(int(math.Floor(top)), 0), min(int(math.Ceil(bottom)), height)
		first, last = min(first, from), max(last, to)
		for y := from; y < to; y++ {
			p.cover[y] += (min(bottom, float64(y+1)) - max(top, float64(y))) / fine
		}
	}
	for y := first; y < last; y++ {
		p.blend(p.image.PixOffset(c, y), ink, p.cover[y])
		p.cover[y] = 0
	}
}

// stroke returns how far a round pen of that radius reaches up and down in a
// fine column while it follows the line.
func (p *picture) stroke(k int, radius float64) (top, bottom float64, ok bool) {
	top, bottom = math.Inf(1), math.Inf(-1)
	side := int(radius * fine)
	for i := max(k-side, 0); i <= min(k+side, len(p.cols)-1); i++ {
		if p.cols[i].Empty() {
			continue
		}
		away := float64(i-k) / fine
		reach := math.Sqrt(radius*radius - away*away)
		top, bottom = min(top, p.cols[i].Min-reach), max(bottom, p.cols[i].Max+reach)
	}
	return top, bottom, bottom > top
}

// blend lays ink over a pixel, which holds premultiplied values.
func (p *picture) blend(at int, ink color.NRGBA, cover float64) {
	part := uint32(min(max(cover, 0), 1)*255 + 0.5)
	pix := p.image.Pix[at : at+4 : at+4]
	for i, v := range [4]uint32{uint32(ink.R), uint32(ink.G), uint32(ink.B), 255} {
		pix[i] = uint8((v*part + uint32(pix[i])*(255-part) + 127) / 255)
	}
}
