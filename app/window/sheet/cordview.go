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
	rolls   bool // it is in the group of those that roll

	// Kept from one drawing to the next, as long as size and colour are the same.
	ground *image.RGBA // the line of no signal
	image  *image.RGBA
	pen    *look.Pen
	made   color.NRGBA // what they were made for
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
}

// draw makes the picture of a trace. A signal of which nothing is known yet is
// a straight line, as is silence.
func (t *traceView) draw(w, h int) image.Image {
	t.prepare(w, h)
	copy(t.image.Pix, t.ground.Pix)
	line, span := silence[:], float32(1)
	if t.signal != nil && len(t.signal.Line) > 1 {
		line, span = t.signal.Line, t.signal.Range
	}
	t.pen.Trace(line, -span, span)
	return t.image
}

// silence is drawn for a signal of which nothing is known.
var silence [2]float32

// prepare makes what is kept between drawings, if it is not there.
func (t *traceView) prepare(w, h int) {
	if t.image != nil && t.image.Rect == image.Rect(0, 0, max(w, 1), max(h, 1)) && t.made == t.colour {
		return
	}
	t.ground, t.image, t.made = look.Canvas(w, h), look.Canvas(w, h), t.colour
	hair := look.HairlineFor(t.picture, w)
	zero := look.NewPen(t.ground, look.Fade(t.colour, 0.3))
	zero.Width = float32(math.Round(float64(hair)))
	zero.Trace(silence[:], -1, 1)
	t.pen = look.NewPen(t.image, t.colour)
	t.pen.Width = 1.1 * hair
}

// sortTraces parts the traces into those that stand on their signal, and change with every
// frame, and those that roll. The toolkit is told of each group at once: to be told
// of a picture costs more than to draw one so small.
func (d *drawing) sortTraces() {
	d.standing.Objects, d.rolling.Objects = d.standing.Objects[:0], d.rolling.Objects[:0]
	for _, t := range d.seen {
		t.rolls = t.signal != nil && t.signal.window == 0
		group := d.standing
		if t.rolls {
			group = d.rolling
		}
		group.Objects = append(group.Objects, t.picture)
	}
}
