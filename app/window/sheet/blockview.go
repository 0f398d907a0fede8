package sheet

import (
	"image"
	"image/color"
	"image/draw"
	"math"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"

	"lampblack/app/desk"
	"lampblack/app/window/look"
	"lampblack/patch"
)

// How large texts are in a block, as parts of their styles' sizes.
const (
	titleScale = 0.95
	valueScale = 0.95
	leastMarks = 0.25 // the scale below which sockets are not drawn
	outside    = 9.0  // room around a block for its sockets, in sheet units
)

// blockView is the picture of a block: all of it but its texts.
type blockView struct {
	picture *canvas.Raster
	shows   blockPicture
	used    bool
}

// blockPicture is what a picture was made for.
type blockPicture struct {
	width, height float64 // of the block, in sheet units
	scale         float32
	symbol        string
	divider       float64
	chosen        bool
	voices        bool // it is there once for every voice
	ink           *look.Ink
	marks         []mark
}

// mark is a socket as it is drawn: an arrowhead for what takes a signal, a ring
// for what gives one.
type mark struct {
	x, y   float64 // from the block's corner, in sheet units
	output bool
	solid  bool
	colour color.NRGBA
}

func (p blockPicture) equal(q blockPicture) bool {
	return p.width == q.width && p.height == q.height && p.scale == q.scale && p.symbol == q.symbol &&
		p.divider == q.divider && p.chosen == q.chosen && p.voices == q.voices && p.ink == q.ink && slices.Equal(p.marks, q.marks)
}

// block draws a block and its texts.
func (d *drawing) block(b *block) {
	view := d.blocks[b.name]
	if view == nil {
		view = &blockView{picture: look.NewRaster(nil)}
		view.picture.Generator = view.draw
		d.blocks[b.name] = view
	}
	view.used = true
	shows := blockPicture{
		width: b.box.width(), height: b.box.height(), scale: float32(d.s.view.scale()), symbol: b.symbol,
		chosen: slices.Contains(d.s.session.Selection().Modules, b.name), ink: d.inks, marks: d.marks(b),
		voices: d.s.perVoice(b.name),
	}
	if b.divider > 0 {
		shows.divider = b.divider - b.box.Y0
	}
	at := d.s.view.at(Point{X: b.box.X0 - outside, Y: b.box.Y0 - outside})
	side := float32(2 * outside)
	view.picture.Move(look.Whole(at))
	view.picture.Resize(fyne.NewSize((float32(shows.width)+side)*shows.scale, (float32(shows.height)+side)*shows.scale))
	if !view.shows.equal(shows) {
		view.shows = shows
		view.picture.Refresh()
	}
	d.objects = append(d.objects, view.picture)
	d.letters(b)
}

// letters sets a block's texts, as far as they can be read.
func (d *drawing) letters(b *block) {
	v := d.s.view
	zoom := float32(v.zoom)
	set := func(style look.Style, scale float32, text string, x, middle float64, right bool, room float64) *canvas.Text {
		if style.Size()*scale*zoom < readable || text == "" {
			return nil
		}
		// Fitted at the size of 1, so that zooming does not change what is cut.
		text = style.Fit(text, float32(room)*look.Em()/look.TextSize, scale)
		at := v.at(Point{X: x, Y: middle})
		t := d.text(style, text, at.X, at.Y, scale*zoom)
		size := t.MinSize()
		if right {
			at.X -= size.Width
		}
		t.Move(look.Whole(at.SubtractXY(0, size.Height/2)))
		return t
	}
	width := b.box.width()
	if s := d.s.naming; s == nil || s.module != b.name {
		set(look.Caps, 1, b.name, b.box.X0+nameX, b.box.Y0+16, false, width-nameX-padding/2)
	}
	if d.limited[b.name] {
		set(look.Emphasis, 0.85*titleScale, "limited itself", b.box.X0+nameX, b.box.Y0+33, false, width-nameX-padding/2)
	} else {
		set(look.Quiet, titleScale, b.title, b.box.X0+nameX, b.box.Y0+33, false, width-nameX-padding/2)
	}
	if b.labelled {
		for _, in := range b.inputs {
			set(look.Quiet, titleScale, in.name, b.box.X0+padding, in.at.Y, false, width/2)
		}
		for _, out := range b.outputs {
			set(look.Quiet, titleScale, out.name, b.box.X1-padding, out.at.Y, true, width/2)
		}
	}
	for _, r := range b.rows {
		value := set(look.Figures, valueScale, r.value, b.box.X1-padding, r.y, true, width*0.66)
		if value != nil && !r.set {
			value.Color = d.inks.Quiet
		}
		set(look.Quiet, titleScale, r.label, b.box.X0+padding, r.y, false, width/2)
	}
}

// marks returns the sockets of a block that are drawn now. Controls into which
// no cord goes show theirs while the mouse is over the block or a cord is
// being drawn.
func (d *drawing) marks(b *block) []mark {
	var marks []mark
	drawing := d.s.hand.doing == joining
	add := func(p Point, output, solid bool, c color.NRGBA) {
		marks = append(marks, mark{p.X - b.box.X0, p.Y - b.box.Y0, output, solid, c})
	}
	for _, s := range b.inputs {
		at := patch.Socket{Module: b.name, Name: s.name}
		add(s.at, false, s.joined || d.s.target(at), d.pick(at, d.inks.Drawn, d.inks.Line, s.joined || drawing))
	}
	for _, r := range b.rows {
		at := patch.Socket{Module: b.name, Name: r.control}
		if r.socket && (r.joined || drawing || d.s.hover.socket.Module == b.name) {
			add(Point{X: b.box.X0, Y: r.y}, false, r.joined || d.s.target(at), d.inks.Modulation)
		}
	}
	for _, s := range b.outputs {
		at := patch.Socket{Module: b.name, Name: s.name}
		probed := at == d.s.session.Probe(desk.ProbeA) || at == d.s.session.Probe(desk.ProbeB)
		colour := d.colourOf(at, false)
		if !probed {
			colour = d.pick(at, d.inks.Drawn, d.inks.Line, s.joined)
		}
		add(s.at, true, probed || d.s.hover.what == onOutput && d.s.hover.socket == at, colour)
	}
	return marks
}

// pick returns strong for a socket that matters now, weak for another.
func (d *drawing) pick(at patch.Socket, strong, weak color.NRGBA, matters bool) color.NRGBA {
	if matters || d.s.hover.socket == at {
		return strong
	}
	return weak
}

// draw makes the picture of a block.
func (v *blockView) draw(w, h int) image.Image {
	to := look.Canvas(w, h)
	p := v.shows
	if p.ink == nil || p.width <= 0 {
		return to
	}
	unit := float64(w) / (p.width + 2*outside) // pixels for a sheet unit
	hair := int(math.Max(1, math.Round(float64(look.HairlineFor(v.picture, w))/1.1)))
	bold := int(math.Round(1.6 * float64(hair)))
	x0, y0 := int(math.Round(outside*unit)), int(math.Round(outside*unit))
	x1, y1 := int(math.Round((outside+p.width)*unit)), int(math.Round((outside+p.height)*unit))
	if p.voices {
		behind := int(math.Round(voiced * unit))
		box := image.Rect(x0+behind, y0-behind, x1+hair+behind, y1+hair-behind)
		fill(to, box, p.ink.Line)
		fill(to, box.Inset(hair), p.ink.Ground)
	}
	line := p.ink.Line
	if p.chosen {
		line, hair = p.ink.Drawn, bold
	}
	fill(to, image.Rect(x0, y0, x1+hair, y1+hair), line)
	fill(to, image.Rect(x0+hair, y0+hair, x1, y1), p.ink.Block)
	if p.divider > 0 && unit > 0.4 {
		y := y0 + int(math.Round(p.divider*unit))
		fill(to, image.Rect(x0+int(padding*unit), y, x1-int(padding*unit), y+max(1, int(unit))), p.ink.Faint)
	}
	v.symbol(to, unit, x0, y0)
	if unit < leastMarks {
		return to
	}
	for _, m := range p.marks {
		m.draw(to, unit, float64(x0), float64(y0), p.ink)
	}
	return to
}

func (v *blockView) symbol(to *image.RGBA, unit float64, x0, y0 int) {
	side := int(math.Round(symbolSize * unit))
	if side < 7 {
		return
	}
	small := look.Canvas(side, side)
	look.DrawSymbol(small, v.shows.symbol, v.shows.ink.Drawn, float32(math.Max(1, 1.1*unit)))
	inset := int(math.Round(11 * unit))
	draw.Draw(to, image.Rect(x0+inset, y0+inset, x0+inset+side, y0+inset+side), small, image.Point{}, draw.Over)
}

func (m mark) draw(to *image.RGBA, unit, x0, y0 float64, ink *look.Ink) {
	x, y := float32(x0+m.x*unit)+0.5, float32(y0+m.y*unit)+0.5
	r := float32(math.Max(2.5, 3.4*unit))
	ground := look.NewPen(to, ink.Ground)
	pen := look.NewPen(to, m.colour)
	pen.Width = float32(math.Max(1, 1.1*unit))
	shape := func(p *look.Pen) {
		if m.output {
			p.Circle(x, y, r)
			return
		}
		p.Move(x-1.5*r, y-1.1*r)
		p.Line(x+0.5*r, y)
		p.Line(x-1.5*r, y+1.1*r)
		p.Line(x-1.5*r, y-1.3*r)
	}
	shape(ground)
	ground.Fill()
	shape(pen)
	if m.solid {
		pen.Fill()
	}
	shape(pen)
	pen.Ink()
}

func fill(to *image.RGBA, r image.Rectangle, c color.Color) {
	draw.Draw(to, r, image.NewUniform(c), image.Point{}, draw.Over)
}
