package response

import (
	"math"
	"strings"

	"fyne.io/fyne/v2/driver/desktop"

	"lampblack/app/probing"
	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
	"lampblack/app/window/plate"
	"lampblack/scope"
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
