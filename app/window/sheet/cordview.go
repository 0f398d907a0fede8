package sheet

import (
	"image"
	"image/color"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"

	"lampblack/app/window/look"
	"lampblack/patch"
)

// traceView is the live trace of a cord.
type traceView struct {
	picture *canvas.Raster
	signal  *signal
	colour  color.NRGBA
	used    bool
}

// leastTrace is how wide a trace is drawn at least, in pixels.
const leastTrace = 18

// cord draws a cord, its trace and its depth.
func (d *drawing) cord(i int, c *cord) {
	colour := d.colourOf(c.cord.From, c.control)
	width := float32(1)
	if i == d.s.session.Selection().Cord {
		width = 2.5
	}
	traced := !c.trace.empty() && c.trace.width()*d.s.view.scale() >= leastTrace
	for j := 1; j < len(c.way); j++ {
		part := segment{a: c.way[j-1], b: c.way[j]}
		if traced && c.trace.meets(part.box()) {
			d.around(part, c.trace, width, colour)
			continue
		}
		d.part(part.a, part.b, width, colour)
	}
	if traced {
		d.trace(c, colour)
	}
	if c.depth != "" && float64(look.Small.Size())*d.s.view.zoom >= readable {
		at := d.s.view.at(c.label)
		t := d.text(look.Small, c.depth, at.X, at.Y, float32(d.s.view.zoom))
		t.Color = colour
		t.Move(look.Whole(at.SubtractXY(0, t.MinSize().Height)))
	}
}

// around draws a part of a cord up to its trace and on behind it.
func (d *drawing) around(part segment, trace Box, width float32, c color.Color) {
	if part.upright() {
		top, foot := min(part.a.Y, part.b.Y), max(part.a.Y, part.b.Y)
		d.part(Point{X: part.a.X, Y: top}, Point{X: part.a.X, Y: trace.Y0}, width, c)
		d.part(Point{X: part.a.X, Y: trace.Y1}, Point{X: part.a.X, Y: foot}, width, c)
		return
	}
	left, right := min(part.a.X, part.b.X), max(part.a.X, part.b.X)
	d.part(Point{X: left, Y: part.a.Y}, Point{X: trace.X0, Y: part.a.Y}, width, c)
	d.part(Point{X: trace.X1, Y: part.a.Y}, Point{X: right, Y: part.a.Y}, width, c)
}

// part draws a straight line between two places of the sheet, on whole units,
// so that lines which meet in a corner meet.
func (d *drawing) part(a, b Point, width float32, c color.Color) {
	p, q := look.Whole(d.s.view.at(Point{X: min(a.X, b.X), Y: min(a.Y, b.Y)})), look.Whole(d.s.view.at(Point{X: max(a.X, b.X), Y: max(a.Y, b.Y)}))
	half := (width - 1) / 2
	d.line(p.X-half, p.Y-half, q.X-p.X+width, q.Y-p.Y+width, c)
}

func (d *drawing) trace(c *cord, colour color.NRGBA) {
	key := [2]patch.Socket{c.cord.From, c.cord.To}
	t := d.traces[key]
	if t == nil {
		t = &traceView{picture: look.NewRaster(nil)}
		t.picture.Generator = t.draw
		d.traces[key] = t
	}
	if sig := d.s.signal(c.cord.From); t.signal != sig || t.colour != colour {
		t.signal, t.colour = sig, colour
		t.picture.Refresh()
	}
	at, end := look.Whole(d.s.view.at(Point{X: c.trace.X0, Y: c.trace.Y0})), look.Whole(d.s.view.at(Point{X: c.trace.X1, Y: c.trace.Y1}))
	end.Y++ // an odd height: the middle of the trace is on its cord
	t.picture.Move(at)
	t.picture.Resize(fyne.NewSize(end.X-at.X, end.Y-at.Y))
	t.used = true
	d.seen = append(d.seen, t)
	d.objects = append(d.objects, t.picture)
}

// draw makes the picture of a trace. A signal of which nothing is known yet is
// a straight line, as is silence.
func (t *traceView) draw(w, h int) image.Image {
	to := look.Canvas(w, h)
	hair := look.HairlineFor(t.picture, w)
	zero := look.NewPen(to, look.Fade(t.colour, 0.3))
	zero.Width = float32(math.Round(float64(hair)))
	zero.Trace([]float32{0, 0}, -1, 1)
	pen := look.NewPen(to, t.colour)
	pen.Width = 1.1 * hair
	line, span := []float32{0, 0}, float32(1)
	if t.signal != nil && len(t.signal.Line) > 1 {
		line, span = t.signal.Line, t.signal.Range
	}
	pen.Trace(line, -span, span)
	return to
}
