package movement

import (
	"image"
	"image/color"
	"slices"

	"fyne.io/fyne/v2/canvas"

	"lampblack/app/window/calm"
	"lampblack/app/window/look"
)

// shapes is a raster in which traces are drawn. Its memory is kept from one
// drawing to the next.
type shapes struct {
	raster *canvas.Raster
	image  *image.RGBA // while it is drawn
	calm   calm.Picture
	draw   func(s *shapes, unit float32)
	line   []float32
}

func newShapes(draw func(s *shapes, unit float32)) *shapes {
	s := &shapes{draw: draw}
	s.raster = canvas.NewRaster(func(w, h int) image.Image {
		unit := max(1, float32(w)/max(s.raster.Size().Width, 1))
		return s.calm.Draw(w, h, look.Now().Ground, float64(unit), func(to *image.RGBA) {
			s.image = to
			s.draw(s, unit)
		})
	})
	return s
}

// late draws what has waited so as not to flash.
func (s *shapes) late() {
	if s.calm.Late(calm.Clock()) {
		s.raster.Refresh()
	}
}

// part returns the part of the picture in which a trace is drawn.
func (s *shapes) part(box image.Rectangle) *image.RGBA {
	return s.image.SubImage(box.Intersect(s.image.Bounds())).(*image.RGBA)
}

// drawShapes draws the traces of the rows that are seen, each in its row.
func (p *Plate) drawShapes(s *shapes, unit float32) {
	b := s.image.Bounds()
	if p.fitting == 0 {
		return
	}
	for i, r := range p.seenRows() {
		y0, y1 := i*b.Dy()/p.fitting, (i+1)*b.Dy()/p.fitting
		free := (y1 - y0) / 8
		p.drawTrace(s, r, image.Rect(0, y0+free, b.Dx(), y1-free), unit)
	}
}

// drawLarge draws the trace of the chosen row.
func (p *Plate) drawLarge(s *shapes, unit float32) {
	if n := p.at(); n >= 0 {
		p.drawTrace(s, p.rows[n], s.image.Bounds(), unit*1.25)
	}
}

// drawTrace draws a row's movement as a line in ochre, and its setting as a
// hairline.
func (p *Plate) drawTrace(s *shapes, r *row, box image.Rectangle, unit float32) {
	to := s.part(box)
	w, h := to.Bounds().Dx(), to.Bounds().Dy()
	if w < 4 || h < 4 {
		return
	}
	lo, hi := p.heights(r)
	if y := 1 - (r.scale.Fraction(r.setting.Value)-lo)/(hi-lo); y >= 0 && y <= 1 {
		hair(to, int(y*float64(h-1)), max(int(unit), 1))
	}
	s.line = p.line(s.line, r, w)
	pen := look.NewPen(to, look.Now().Modulation)
	pen.Width = 1.3 * unit
	pen.TraceIn(s.line, float32(lo), float32(hi), 0, 0, float32(w), float32(h))
}

// hair draws a level hairline.
func hair(to *image.RGBA, y, thick int) {
	ink, b := look.Now().Line, to.Bounds()
	for dy := range thick {
		for x := b.Min.X; x < b.Max.X && y+dy < b.Dy(); x++ {
			to.SetRGBA(x, b.Min.Y+y+dy, color.RGBA{ink.R, ink.G, ink.B, 255})
		}
	}
}

// heights returns what fractions of the ruler stand at the lower and the upper
// edge of a trace.
func (p *Plate) heights(r *row) (lo, hi float64) {
	if p.whole {
		return 0, 1
	}
	set := min(max(r.scale.Fraction(r.setting.Value), 0), 1)
	lo, hi = set, set
	if r.moved {
		lo, hi = r.scale.Fraction(r.least), r.scale.Fraction(r.most)
		if d := hi - lo; set >= lo-d && set <= hi+d { // where it is near, it is shown
			lo, hi = min(lo, set), max(hi, set)
		}
	}
	const least = 1e-5
	if hi-lo < least {
		lo, hi = lo-least, hi+least
	}
	edge := 0.04 * (hi - lo)
	return lo - edge, hi + edge
}

// line returns a row's movement as fractions of its ruler, two values for each of
// so many columns at most; NaN where nothing is known.
func (p *Plate) line(dst []float32, r *row, columns int) []float32 {
	dst = dst[:0]
	seconds := p.span(r)
	if seconds <= inSamples && r.tap != nil {
		if line, ok := p.samples(dst, r, int(seconds*p.meter.rate), columns); ok {
			return line
		}
	}
	outline := slices.Grow(p.outline[:0], columns)[:columns]
	p.outline = outline
	r.history.outline(outline, seconds*p.meter.rate)
	rising := true
	last := float32(0)
	for _, c := range outline {
		low, high := r.fraction(c.least), r.fraction(c.most)
		if low == low {
			rising = low+high >= 2*last
			last = (low + high) / 2
		}
		if rising {
			dst = append(dst, low, high)
		} else {
			dst = append(dst, high, low)
		}
	}
	return dst
}

func (r *row) fraction(v float32) float32 {
	if v != v {
		return v
	}
	return float32(r.scale.Fraction(r.shown(v)))
}

// samples is line where every sample is looked at: the newest n of them which
// begin where the movement rises through its middle.
func (p *Plate) samples(dst []float32, r *row, n, columns int) ([]float32, bool) {
	n = max(n, 2)
	all := p.meter.buffer[:min(2*n, longest)]
	if _, ok := r.tap.Read(all); !ok {
		return dst, false
	}
	least, most, ok := look.Extent(all)
	if !ok {
		return dst, false
	}
	part := all[len(all)-n:]
	middle, below := (least+most)/2, (3*least+most)/4
	for i := len(all) - n; i > 0; i-- {
		if all[i] >= middle && all[i-1] < middle && reaches(all[:i], below, middle) {
			part = all[i : i+n]
			break
		}
	}
	if n <= 2*columns {
		for _, v := range part {
			dst = append(dst, r.fraction(v))
		}
		return dst, true
	}
	for c := range columns {
		low, high, _ := look.Extent(part[c*n/columns : (c+1)*n/columns])
		a, b := part[c*n/columns], part[(c+1)*n/columns-1]
		if a > b {
			low, high = high, low
		}
		dst = append(dst, r.fraction(low), r.fraction(high))
	}
	return dst, true
}

// reaches tells whether samples were below a level since they were last above
// another: a ripple at the middle is no beginning.
func reaches(before []float32, below, middle float32) bool {
	for i := len(before) - 1; i >= 0; i-- {
		if before[i] < below {
			return true
		}
		if before[i] > middle {
			return false
		}
	}
	return false
}
