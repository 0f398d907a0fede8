package calm

import (
	"image"
	"image/color"
)

// Picture is a frame with its guard. Its memory is kept from one drawing to the
// next. The zero value is ready. One goroutine uses it.
type Picture struct {
	Guard
	frame  *image.RGBA
	ground color.NRGBA
}

// Draw has paint draw w x h pixels, at least one each way, on nothing, and returns
// them. What would flash is not drawn: the last frame stays until it is Late. One
// of another size or on another ground is drawn at once. unit is how many pixels a
// unit of the screen has.
func (p *Picture) Draw(w, h int, ground color.NRGBA, unit float64, paint func(to *image.RGBA)) *image.RGBA {
	size := image.Rect(0, 0, max(w, 1), max(h, 1))
	fits := p.frame != nil && p.frame.Bounds() == size
	if fits && p.ground == ground && p.Waits(Clock()) {
		return p.frame
	}
	if !fits {
		p.frame = image.NewRGBA(size)
	}
	p.ground = ground
	clear(p.frame.Pix)
	paint(p.frame)
	p.Saw(p.frame, ground, unit, Clock())
	return p.frame
}
