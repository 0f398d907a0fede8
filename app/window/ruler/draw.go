package ruler

import (
	"image"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"

	"lampblack/app/window/look"
)

// rulerRenderer holds what is drawn of a ruler. The printed scale is one
// picture, made again only when it changes; what moves are rectangles.
type rulerRenderer struct {
	r *Ruler

	name, value, unit *canvas.Text
	marks             *canvas.Raster
	labels            []*canvas.Text
	message           []*canvas.Text
	index, usual      *canvas.Rectangle
	band, live        *canvas.Rectangle
	bar               *canvas.Rectangle // at the left while the ruler has the focus
	cords             *canvas.Text      // unfolds what they do
	lines             []*causeLine
	setting           *canvas.Rectangle // through the lines

	printed  printed
	division []Division
	objects  []fyne.CanvasObject
}

// printed is what the picture of the scale was made for.
type printed struct {
	ink        *look.Ink
	unit       string
	min, max   float64
	width, em  float64
	choices    int
	signed     bool
	labelStyle float32
}

func (v *rulerRenderer) Layout(fyne.Size)             { v.Refresh() }
func (v *rulerRenderer) Objects() []fyne.CanvasObject { return v.objects }
func (v *rulerRenderer) Destroy()                     {} // the panel stops its rulers

func (v *rulerRenderer) MinSize() fyne.Size {
	name, value := v.r.natural()
	name, value = max(name, v.r.nameWidth), max(value, v.r.valueWidth)
	g := v.r.geometry()
	height := g.foot(v.r.causeLines()) + float64(len(v.messageLines(g)))*float64(look.Quiet.Height())
	return fyne.NewSize(name+value+10*look.Em(), float32(math.Ceil(height)))
}

func (v *rulerRenderer) messageLines(g row) []string {
	if v.r.message == "" {
		return nil
	}
	return look.Quiet.Wrap(v.r.message, float32(g.messageWidth))
}

func (v *rulerRenderer) Refresh() {
	g := v.r.geometry()
	v.print(g)
	v.write(g)
	v.place(g)
	v.layCauses(g)
	v.gather()
	look.Repaint(v.r)
}

// print divides the scale again if it has changed.
func (v *rulerRenderer) print(g row) {
	s := v.r.of.scale()
	p := printed{look.Now(), s.Unit, s.Min, s.Max, g.scaleWidth(), g.em, len(s.Choices), v.r.of.signed(), look.Small.Size()}
	if p == v.printed {
		return
	}
	v.printed = p
	printing := v.r.printing(g)
	v.division = divide(s, printing)
	v.labels = v.labels[:0]
	for _, d := range v.division {
		if d.Label != "" {
			label := look.Small.Draw(d.Label)
			label.Alignment = fyne.TextAlignCenter
			size := label.MinSize()
			label.Resize(size)
			y := float32(0)
			if d.Below {
				y = float32(g.bottom)
			}
			label.Move(look.Whole(fyne.NewPos(float32(g.scaleX0+printing.middle(d))-size.Width/2, y)))
			v.labels = append(v.labels, label)
		}
	}
	v.marks.Move(look.Whole(fyne.NewPos(float32(g.scaleX0)-2, float32(g.top))))
	v.marks.Resize(fyne.NewSize(float32(g.scaleWidth())+4, float32(g.base-g.top)+2))
	v.marks.Refresh()
}

// engrave draws the marks and the base line, each on whole pixels.
func (v *rulerRenderer) engrave(w, h int) image.Image {
	to := look.Canvas(w, h)
	g := v.r.geometry()
	pixels := float64(w) / (g.scaleWidth() + 4)
	hair := max(1, int(math.Round(pixels)))
	ink := look.Now()
	base := int(math.Round((g.base - g.top) * pixels))
	left, right := int(math.Round(2*pixels)), int(math.Round((2+g.scaleWidth())*pixels))
	fill(to, image.Rect(left, base, right+hair, base+hair), ink.Line)
	for _, d := range v.division {
		x := left + int(math.Round(d.At*g.scaleWidth()*pixels))
		height := map[Height]float64{Low: 0.38, Middle: 0.6, Tall: 1}[d.Height]
		fill(to, image.Rect(x, base-int(height*float64(base)), x+hair, base), ink.Line)
	}
	return to
}

// write sets the texts.
func (v *rulerRenderer) write(g row) {
	ink := look.Now()
	v.name.Text, v.value.Text, v.unit.Text = v.r.of.name(), v.r.Written(), v.r.otherText()
	look.Body.Dress(v.name)
	look.Figures.Dress(v.value)
	look.Quiet.Dress(v.unit)
	if v.r.typing {
		v.value.Text = ""
	}
	room := g.width - g.valueX
	if v.unit.Text != "" {
		room = g.unitX - g.valueX - 0.5*g.em
	}
	v.value.Text = look.Figures.Fit(v.value.Text, float32(room), 1)
	v.message = v.message[:0]
	for _, line := range v.messageLines(g) {
		text := look.Quiet.Draw(line)
		text.Color = ink.Drawn
		v.message = append(v.message, text)
	}
	v.index.FillColor, v.usual.FillColor, v.bar.FillColor = ink.Drawn, ink.Quiet, ink.Drawn
	v.band.FillColor, v.live.FillColor = ink.Band, ink.Modulation
	v.band.StrokeColor, v.band.StrokeWidth = ink.Modulation, 1 // its ends are lines: the fill alone is faint
}

// place puts everything where it belongs.
func (v *rulerRenderer) place(g row) {
	onBase := func(t *canvas.Text, x float64) {
		size := t.MinSize()
		// The foot of the letters stands on the base line of the scale.
		t.Move(look.Whole(fyne.NewPos(float32(x), float32(g.base)-size.Height*baseline)))
		t.Resize(size)
	}
	onBase(v.name, g.em*0.5)
	onBase(v.value, g.valueX)
	onBase(v.unit, g.unitX)
	s := v.r.of.scale()
	v.stand(v.index, g.x(s.Fraction(v.r.of.setting().Value)), g.top-0.15*g.em, g.bottom, 2)
	v.stand(v.usual, g.x(s.Fraction(v.r.of.usual())), g.base+3, g.base+3+math.Round(0.2*g.em), 1)
	v.bar.Move(fyne.NewPos(0, float32(g.top)))
	v.bar.Resize(fyne.NewSize(2, float32(g.bottom-g.top)))
	show(v.bar, v.r.focused)
	height := float64(look.Quiet.Height())
	for i, line := range v.message {
		line.Move(look.Whole(fyne.NewPos(float32(g.scaleX0), float32(g.messageTop+g.foot(v.r.causeLines())-g.height+float64(i)*height))))
		line.Resize(line.MinSize())
	}
	show(v.r.field, v.r.typing)
	if v.r.typing {
		size := v.r.field.MinSize()
		v.r.field.Move(fyne.NewPos(float32(g.valueX)-0.5*float32(g.em), float32(g.base)-size.Height*0.72))
		v.r.field.Resize(fyne.NewSize(float32(g.width-g.valueX-0.5*g.em), size.Height))
	}
	v.sweep(g)
}

// baseline is where letters stand in a line of Linux Libertine: its ascent,
// 894 units, over its line, 894 + 246.
const baseline = 894. / (894 + 246)

// moveLive moves the ochre marks if modulation has moved.
func (v *rulerRenderer) moveLive() { v.sweep(v.r.geometry()) }

func (v *rulerRenderer) sweep(g row) {
	least, now, most, ok := v.r.of.swept()
	show(v.band, ok)
	show(v.live, ok)
	if !ok {
		return
	}
	s := v.r.of.scale()
	x0, x1 := g.x(s.Fraction(least)), g.x(s.Fraction(most))
	v.stand(v.band, (x0+x1)/2, g.base-0.62*(g.base-g.top), g.base, x1-x0)
	v.stand(v.live, g.x(s.Fraction(now)), g.top, g.base, 2)
}

// stand puts an upright bar of a width about x; a bar that has not moved by
// half a unit is left alone, and nothing is drawn.
func (v *rulerRenderer) stand(bar *canvas.Rectangle, x, top, foot, width float64) {
	pos := look.Whole(fyne.NewPos(float32(x-width/2+0.5), float32(top)))
	size := fyne.NewSize(float32(math.Round(max(width, 1))), float32(math.Round(foot-top)))
	if far(bar.Size().Width, size.Width) || far(bar.Size().Height, size.Height) {
		bar.Resize(size)
	}
	if old := bar.Position(); far(old.X, pos.X) || far(old.Y, pos.Y) {
		bar.Move(pos)
	}
}

func far(a, b float32) bool { return math.Abs(float64(a-b)) >= 0.5 }

func (v *rulerRenderer) gather() {
	v.objects = append(v.objects[:0], v.band, v.marks, v.usual, v.live, v.index, v.bar, v.name, v.value, v.unit)
	for _, l := range v.labels {
		v.objects = append(v.objects, l)
	}
	if v.cords.Text != "" {
		v.objects = append(v.objects, v.cords)
	}
	if len(v.lines) > 0 {
		v.objects = append(v.objects, v.setting)
	}
	for _, l := range v.lines {
		v.objects = append(v.objects, l.objects()...)
	}
	for _, l := range v.message {
		v.objects = append(v.objects, l)
	}
	v.objects = append(v.objects, v.r.field)
}

func show(o fyne.CanvasObject, on bool) {
	if o.Visible() == on {
		return
	}
	if on {
		o.Show()
	} else {
		o.Hide()
	}
}
