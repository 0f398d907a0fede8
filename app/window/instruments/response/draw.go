package response

import (
	"image"
	"image/color"
	"math"
	"strings"

	"fyne.io/fyne/v2/driver/desktop"

	"lampblack/app/probing"
	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
	"lampblack/app/window/plate"
	"lampblack/scope"
	"lampblack/scope/sounding"
)

// placed is a field with the place where it lies, on the picture.
type placed struct {
	field
	box plate.Box
}

// Room around a field, in ems.
const (
	leftRoom = 2.9
	headRoom = 1.7
	footRoom = 1.5
)

// writePicture writes the title, the scales and the words of the fields, and puts
// the raster with the lines over them.
func (p *Plate) writePicture(pen *leaf.Pen) {
	fields := p.fields()
	p.places = p.places[:0]
	if len(fields) == 0 {
		p.writeWhy(pen)
		return
	}
	shares, heads := float32(0), float32(0)
	for _, f := range fields {
		shares += f.share
		heads += headRoom
		if !f.x.bare {
			heads += footRoom
		}
	}
	room := pen.Height - heads*pen.Em
	y := float32(0)
	for i, f := range fields {
		b := plate.Box{X: pen.Em * leftRoom, Y: y + headRoom*pen.Em, Width: pen.Width - pen.Em*(leftRoom+0.8), Height: room * f.share / shares}
		if b.Height < pen.Em*2 || b.Width < pen.Em*6 {
			return
		}
		p.places = append(p.places, placed{f, b})
		p.writeHead(pen, f, b, i == 0)
		ruleUpright(pen, f.y, b)
		ruleAcross(pen, f.x, b)
		y = b.Y + b.Height
		if !f.x.bare {
			y += footRoom * pen.Em
		}
	}
	pen.Put(p.raster, 0, 0, pen.Width, pen.Height)
	p.writeReadAt(pen)
	for _, at := range p.places {
		writeMarks(pen, at)
	}
}

// writeReadAt draws where the lines are read, and lets it be dragged along.
func (p *Plate) writeReadAt(pen *leaf.Pen) {
	if p.shown.form != probing.Response {
		return
	}
	for _, at := range p.places {
		if hz := p.set.readAt; hz > 0 {
			pen.Upright(at.box.X+at.box.Width*float32(at.x.at(hz)), at.box.Y, at.box.Height, pen.Ink.Drawn)
		}
		b, x := at.box, at.x
		to := func(mouse, _ float32) {
			part := float64((mouse - b.X) / max(b.Width, 1))
			p.readAt(x.low * math.Pow(x.high/x.low, min(max(part, 0), 1)))
		}
		place := pen.Place(at.name, b.X, b.Y, b.Width, b.Height)
		place.Down, place.Drag, place.Unmarked, place.Unlisted = to, to, true, true
		place.Cursor = desktop.CrosshairCursor
	}
}

// writeWhy says in words why nothing is drawn.
func (p *Plate) writeWhy(pen *leaf.Pen) {
	base := pen.Em * 1.3
	if p.shown.title != "" {
		pen.Fit(look.Caps, 0, base, pen.Width, p.shown.title)
		base += pen.Em * 2
	}
	width := min(pen.Width-pen.Em, pen.Em*34)
	for _, l := range wrap(look.Shown(p.shown.why), width) {
		pen.Text(look.Body, 0, base, l)
		base += pen.Em * 1.5
	}
}

// wrap breaks a sentence into lines.
func wrap(text string, width float32) []string {
	var lines []string
	now := ""
	for _, word := range fieldsOf(text) {
		if next := now + " " + word; now != "" && look.Body.Measure(next).Width > width {
			lines, now = append(lines, now), word
		} else if now == "" {
			now = word
		} else {
			now = next
		}
	}
	if now != "" {
		lines = append(lines, now)
	}
	return lines
}

// writeHead names the field, and over the first one what is shown; then how its
// lines are told apart.
func (p *Plate) writeHead(pen *leaf.Pen, f field, b plate.Box, first bool) {
	base := b.Y - pen.Em*0.5
	x := pen.Text(look.Quiet, b.X, base, f.name)
	if f.unit != "" {
		pen.Right(look.Small, b.X-pen.Em*0.45, base, f.unit)
	}
	x += pen.Em * 1.2
	end := b.X + b.Width
	if first {
		title := p.shown.title
		if _, short, ok := strings.Cut(title, ": "); ok && pen.Wide(look.Caps, title) > b.Width-pen.Em*16 {
			title = short // the module is named in the margin
		}
		title = look.Caps.Fit(title, max(b.Width-pen.Em*16, b.Width*0.45), 1)
		end = pen.Right(look.Caps, end, base, title) - pen.Em
	}
	seen := map[string]bool{}
	for _, l := range f.lines {
		if wide := pen.Em*2.6 + pen.Wide(look.Small, l.name); l.name == "" || seen[l.name] || x+wide > end || !first {
			continue
		}
		seen[l.name] = true
		sample(pen, l.stroke, x, base-pen.Em*0.32, pen.Em*1.6)
		x = pen.Text(look.Small, x+pen.Em*2, base, l.name) + pen.Em
	}
	if len(f.rings) > 0 && first && x+pen.Em*2+pen.Wide(look.Small, "measured") < end {
		pen.Text(look.Small, x+pen.Em*1.1, base, "measured")
		p.places[len(p.places)-1].key(x+pen.Em*0.5, base-pen.Em*0.28)
	}
}

// sample draws a piece of a line for the heading.
func sample(pen *leaf.Pen, s stroke, x, y, width float32) {
	c := strokeInk(pen.Ink, s)
	if s == full {
		pen.Box(x, y, width, 1.5, c, nil)
		return
	}
	end := x + width
	for i := 0; x < end; i++ {
		step := patterns[s][i%len(patterns[s])]
		if i%2 == 0 {
			pen.Box(x, y, min(step, end-x), 1.5, c, nil)
		}
		x += step
	}
}

// key marks where a ring stands in the heading, for the raster.
func (at *placed) key(x, y float32) {
	at.marks = append(at.marks, mark{float64(x), float64(y), keyRing})
}

// keyRing is the text of a mark that is a ring of the heading.
const keyRing = "\x00"

func strokeInk(ink *look.Ink, s stroke) color.NRGBA {
	if s == grey {
		return ink.Line
	}
	return ink.Drawn
}

func ruleUpright(pen *leaf.Pen, a axis, b plate.Box) {
	pen.Box(b.X-1, b.Y-1, b.Width+2, b.Height+2, nil, pen.Ink.Faint)
	free := b.Y + b.Height + pen.Em
	for k := math.Ceil(a.low/a.step - 1e-9); k*a.step <= a.high+1e-9*a.step; k++ {
		v := k*a.step + 0 // no -0
		y := b.Y + b.Height*float32(1-a.at(v))
		c := pen.Ink.Faint
		if v == 0 && a.low < 0 && a.high > 0 {
			c = pen.Ink.Line
		}
		pen.Level(b.X, y, b.Width, c)
		if y < free-pen.Em*0.95 {
			pen.Right(look.Small, b.X-pen.Em*0.45, min(max(y, b.Y+pen.Em*0.3), b.Y+b.Height)+pen.Em*0.28, look.Shown(a.figure(v)))
			free = y
		}
	}
}

func ruleAcross(pen *leaf.Pen, a axis, b plate.Box) {
	if a.log {
		of := scope.Axis{Low: a.low, High: a.high, Logarithmic: true}
		if !a.bare {
			plate.RuleFrequencies(pen, b, of)
			return
		}
		for _, hz := range plate.FrequencyMarks(of) {
			pen.Upright(b.X+b.Width*float32(of.Fraction(hz)), b.Y, b.Height, pen.Ink.Faint)
		}
		return
	}
	free := b.X - pen.Em
	unit := pen.Wide(look.Small, a.unit) + pen.Em*0.5
	for k := math.Ceil(a.low/a.step - 1e-9); k*a.step <= a.high+1e-9*a.step; k++ {
		x := b.X + b.Width*float32(a.at(k*a.step))
		c := pen.Ink.Faint
		if k == 0 && a.low < 0 {
			c = pen.Ink.Line
		}
		pen.Upright(x, b.Y, b.Height, c)
		label := look.Shown(a.figure(k*a.step + 0)) // no -0
		half := pen.Wide(look.Small, label) / 2
		if x-half > free && x+half < b.X+b.Width-unit {
			pen.Middle(look.Small, x, b.Y+b.Height+pen.Em*1.05, label)
			free = x + half + pen.Em*0.5
		}
	}
	pen.Right(look.Small, b.X+b.Width, b.Y+b.Height+pen.Em*1.05, a.unit)
}

// writeMarks writes the words of marks beside them, where they hide least.
func writeMarks(pen *leaf.Pen, at placed) {
	if at.gate > 0 {
		end := at.box.X + at.box.Width*float32(at.x.at(at.gate))
		pen.Box(at.box.X, at.box.Y+at.box.Height-3, end-at.box.X, 3, pen.Ink.Line, nil)
		if word := "note"; end-at.box.X > pen.Wide(look.Small, word)+pen.Em {
			pen.Right(look.Small, end-pen.Em*0.4, at.box.Y+at.box.Height-pen.Em*0.5, word)
		}
	}
	for _, m := range at.marks {
		if m.text == keyRing {
			continue
		}
		x := at.box.X + at.box.Width*float32(at.x.at(m.x)) + pen.Em*0.7
		y := at.box.Y + at.box.Height*float32(1-at.y.at(m.y)) - pen.Em*0.5
		if x+pen.Wide(look.Small, m.text) > at.box.X+at.box.Width {
			x -= pen.Wide(look.Small, m.text) + pen.Em*1.4
		}
		pen.Tinted(look.Small, pen.Ink.Drawn, x, max(y, at.box.Y+pen.Em*0.9), m.text)
	}
}

// draw draws the lines, in pixels of the screen.
func (p *Plate) draw(w, h int) image.Image {
	to := look.Canvas(w, h)
	unit := float32(w) / max(p.raster.Size().Width, 1)
	ink := look.Now()
	for _, at := range p.places {
		at.box.X, at.box.Y, at.box.Width, at.box.Height = at.box.X*unit, at.box.Y*unit, at.box.Width*unit, at.box.Height*unit
		at.paint(to, ink, unit)
	}
	return to
}

func (at placed) paint(to *image.RGBA, ink *look.Ink, unit float32) {
	bars := look.NewPen(to, ink.Drawn)
	bars.Width = 2.2 * unit
	for _, b := range at.bars {
		x, y := at.place(b)
		if b.Y > at.y.low && x > at.box.X && x < at.box.X+at.box.Width {
			bars.Move(x, at.box.Y+at.box.Height)
			bars.Line(x, max(y, at.box.Y))
			bars.Ink()
		}
	}
	for _, l := range at.lines {
		pen := look.NewPen(to, strokeInk(ink, l.stroke))
		pen.Width = 1.5 * unit
		at.trace(pen, l.points, patterns[l.stroke], unit)
	}
	rings := look.NewPen(to, ink.ProbeA)
	rings.Width = 1.3 * unit
	for _, r := range at.rings {
		if x, y := at.place(r); at.holds(r) {
			rings.Circle(x, y, 2.6*unit)
		}
	}
	rings.Ink()
	stems, spots := look.NewPen(to, ink.Line), look.NewPen(to, ink.Drawn)
	stems.Width, spots.Width = unit, 1.3*unit
	for _, m := range at.marks {
		if m.text == keyRing {
			rings.Circle(float32(m.x)*unit, float32(m.y)*unit, 2.6*unit)
			rings.Ink()
			continue
		}
		x, y := at.place(sounding.Point{X: m.x, Y: m.y})
		stems.Move(x, at.box.Y+at.box.Height)
		stems.Line(x, y)
		stems.Ink()
		spots.Move(x-5*unit, y)
		spots.Line(x+5*unit, y)
		spots.Ink()
	}
}

func (at placed) place(p sounding.Point) (x, y float32) {
	return at.box.X + at.box.Width*float32(at.x.at(p.X)), at.box.Y + at.box.Height*float32(1-at.y.at(p.Y))
}

func (at placed) holds(p sounding.Point) bool {
	return p.X >= at.x.low && p.X <= at.x.high && p.Y >= at.y.low && p.Y <= at.y.high
}

// trace draws a line as far as it lies within the field, with a pattern or whole.
func (at placed) trace(pen *look.Pen, points []sounding.Point, pattern []float32, unit float32) {
	top, foot := at.box.Y, at.box.Y+at.box.Height
	dashes := dashing{pattern: pattern, unit: unit}
	begun := false
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		x0, y0 := at.place(a)
		x1, y1 := at.place(b)
		// Far below, where nothing comes through, a level is -Inf: as far as one can see.
		y0, y1 = limited(y0, foot), limited(y1, foot)
		if y0 != y0 || y1 != y1 || a.X < at.x.low || b.X > at.x.high*(1+1e-9) {
			begun = false
			continue
		}
		if !clip(&x0, &y0, &x1, &y1, top, foot) {
			begun = false
			continue
		}
		if !begun || y0 == top || y0 == foot {
			pen.Move(x0, y0)
		}
		begun = true
		if len(pattern) == 0 {
			pen.Line(x1, y1)
			continue
		}
		dashes.along(pen, x0, y0, x1, y1)
	}
	pen.Ink()
}

// limited keeps a place within what can be reckoned with.
func limited(y, foot float32) float32 {
	if y > foot+1e5 {
		return foot + 1e5
	}
	return max(y, -1e5)
}

// clip cuts a stroke at the top and the foot of a field; false: none of it is in.
func clip(x0, y0, x1, y1 *float32, top, foot float32) bool {
	if *y0 < top && *y1 < top || *y0 > foot && *y1 > foot {
		return false
	}
	cut := func(xa, ya *float32, xb, yb float32) {
		for _, edge := range [2]float32{top, foot} {
			if (edge == top && *ya < top) || (edge == foot && *ya > foot) {
				*xa += (xb - *xa) * (edge - *ya) / (yb - *ya)
				*ya = edge
			}
		}
	}
	cut(x0, y0, *x1, *y1)
	cut(x1, y1, *x0, *y0)
	return true
}

// dashing is how far a line has come in its pattern.
type dashing struct {
	pattern []float32
	unit    float32 // in pixels
	turn    int     // the pen is down in even turns
	gone    float32 // how far the present turn has come, in pixels
}

// along goes along a stroke with the pen down and up by turns.
func (d *dashing) along(pen *look.Pen, x0, y0, x1, y1 float32) {
	length := float32(math.Hypot(float64(x1-x0), float64(y1-y0)))
	for at := float32(0); at < length; {
		turn := d.pattern[d.turn%len(d.pattern)] * d.unit
		step := min(turn-d.gone, length-at)
		at, d.gone = at+step, d.gone+step
		x, y := x0+(x1-x0)*at/length, y0+(y1-y0)*at/length
		if d.turn%2 == 0 {
			pen.Line(x, y)
		} else {
			pen.Move(x, y)
		}
		if d.gone >= turn-1e-3 {
			d.gone, d.turn = 0, d.turn+1
			if d.turn%2 == 0 {
				pen.Move(x, y)
			}
		}
	}
}
