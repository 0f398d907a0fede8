package instruments

import (
	"image"
	"image/color"
	"math"

	"fyne.io/fyne/v2/canvas"

	"lampblack/app/window/calm"
	"lampblack/app/window/instruments/expect"
	"lampblack/app/window/look"
	"lampblack/scope"
)

// rings lies over the picture of the spectrum: an open ring where a line should
// stand, and a dashed line where noise should. It is drawn anew only when these
// change.
type rings struct {
	raster *canvas.Raster
	calm   calm.Picture
	e      *expected
}

func newRings(e *expected) *rings {
	r := &rings{e: e}
	r.raster = canvas.NewRaster(r.draw)
	return r
}

const (
	ringRadius   = 4.0 // units
	chosenRadius = 7.0
	ringWidth    = 1.2
)

// claimed tells whether a row may be drawn: rings claim what they mark.
func (e *expected) claimed(r *expect.Row) bool {
	return len(e.is.Why) == 0 && len(e.rows) > 0 && (r.Band || r.Level >= e.rows[0].Level-e.is.Down && r.Hz <= e.is.Up)
}

// late draws what has waited so as not to flash.
func (r *rings) late() {
	if r.calm.Late(calm.Clock()) {
		r.raster.Refresh()
	}
}

// draw is called by the toolkit with the size in pixels of the screen.
func (r *rings) draw(w, h int) image.Image {
	unit := max(1, float32(w)/max(r.raster.Size().Width, 1))
	return r.calm.Draw(w, h, look.Now().Ground, float64(unit), func(to *image.RGBA) { r.paint(to, float32(w), float32(h), unit) })
}

// paint draws on a picture w by h, in which a unit has so many pixels.
func (r *rings) paint(to *image.RGBA, w, h, unit float32) {
	e := r.e
	s := &e.t.measure.switches
	if e.of() < 0 || s.show == showDifference || len(e.is.Why) > 0 || e.late {
		return
	}
	ink := [...]color.NRGBA{look.Now().ProbeA, look.Now().ProbeB}[e.of()]
	pen := look.NewPen(to, ink)
	pen.Width = ringWidth * unit
	if s.show == showBands {
		r.bands(pen, w, h, unit)
		return
	}
	r.noise(to, unit)
	var drawn [][2]float32
	for i := range e.rows {
		row := &e.rows[i]
		x, y, ok := r.place(row, w, h)
		if !ok || i != e.chosen && taken(drawn, x, y, 3*unit) {
			continue
		}
		drawn = append(drawn, [2]float32{x, y})
		pen.Circle(x, y, ringRadius*unit)
		pen.Ink()
		if row.Open() && !row.Band {
			r.span(pen, row, x, h, unit)
		}
		if i == e.chosen && s.table {
			mark := look.NewPen(to, look.Now().Drawn)
			mark.Width = pen.Width
			mark.Circle(x, y, chosenRadius*unit)
			mark.Ink()
		}
	}
}

// taken tells whether a ring was drawn as near as that: of rings that would lie on
// each other the strongest is drawn.
func taken(drawn [][2]float32, x, y, near float32) bool {
	for _, d := range drawn {
		if dx, dy := d[0]-x, d[1]-y; dx*dx+dy*dy < near*near {
			return true
		}
	}
	return false
}

// span is the range of a line whose level hangs on phases that nothing tells.
func (r *rings) span(pen *look.Pen, row *expect.Row, x, h, unit float32) {
	top, bottom := r.level(row.Most, h), r.level(row.Least, h)
	top, bottom = max(top, 0), min(bottom, h)
	for _, y := range []float32{top, bottom} {
		pen.Move(x-3*unit, y)
		pen.Line(x+3*unit, y)
		pen.Ink()
	}
	pen.Move(x, top)
	pen.Line(x, bottom)
	pen.Ink()
}

func (r *rings) level(db float64, h float32) float32 {
	return float32(-db/r.e.t.measure.switches.span) * h
}

// place is where a row's ring stands in a picture w by h, if it is to be seen.
func (r *rings) place(row *expect.Row, w, h float32) (x, y float32, ok bool) {
	e := r.e
	m := e.t.measure
	db := row.Level
	if row.Band || m.switches.show != showLines || !e.claimed(row) {
		return 0, 0, false
	}
	// What the nearest bin shows of a line that stands beside it.
	bin := row.Hz * float64(m.switches.samples) / m.rate
	db += scope.DB(m.switches.window.Fall(bin - math.Round(bin)))
	a := m.axis()
	at := a.Fraction(row.Hz)
	if row.Hz < a.Low || at < 0 || at > 1 || db < -m.switches.span || math.IsNaN(at) {
		return 0, 0, false
	}
	return float32(at) * w, r.level(db, h), true
}

// bands draws a ring in the middle of every third of an octave: its noise and its
// lines.
func (r *rings) bands(pen *look.Pen, w, h, unit float32) {
	e := r.e
	a := e.t.measure.axis()
	for i, db := range expect.Bands(e.is) {
		band := scope.Band25Hz + scope.Band(i)
		if low, _ := band.Edges(); low < a.Low || db < -e.t.measure.switches.span {
			continue
		}
		pen.Circle(float32(a.Fraction(band.Mid()))*w, r.level(db, h), ringRadius*unit)
		pen.Ink()
	}
}

// noise draws the level at which the bins should stand where there is only noise.
func (r *rings) noise(to *image.RGBA, unit float32) {
	w, h := to.Bounds().Dx(), to.Bounds().Dy()
	density := r.e.is.Density
	if density == nil {
		return
	}
	pen := look.NewPen(to, look.Now().Drawn) // its own ink: it lies on the trace
	pen.Width = ringWidth * unit
	m := r.e.t.measure
	a := m.axis()
	on := int(6 * unit)
	for from := 0; from < w; from += 2 * on {
		started := false
		for x := from; x <= min(from+on, w); x++ {
			hz := a.At(float64(x) / float64(w))
			// A line's level is that of its peak, noise is counted by its RMS.
			db := 10 * math.Log10(2*density(hz)*m.switches.window.NoiseBandwidth()*m.rate/float64(m.switches.samples))
			if !(db > -m.switches.span) {
				started = false
				continue
			}
			if y := r.level(min(db, 0), float32(h)); started {
				pen.Line(float32(x), y)
			} else {
				pen.Move(float32(x), y)
				started = true
			}
		}
		pen.Ink()
	}
}
