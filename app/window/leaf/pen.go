package leaf

import (
	"image/color"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"

	"lampblack/app/window/look"
)

// Pen writes on a leaf. Lengths are in fyne's units; a text stands on its base
// line. What is written later lies above.
type Pen struct {
	Width, Height float32
	Em            float32   // the size of body text
	Ink           *look.Ink // the colours of now

	objects []fyne.CanvasObject
	texts   []*canvas.Text // kept from one writing to the next, as are boxes
	boxes   []*canvas.Rectangle
	text    int
	box     int
	places  []Place
}

func (p *Pen) begin(size fyne.Size) {
	p.Width, p.Height, p.Em, p.Ink = size.Width, size.Height, look.Em(), look.Now()
	p.objects, p.places = p.objects[:0], p.places[:0]
	p.text, p.box = 0, 0
}

// end lets go of what was left over from a fuller writing.
func (p *Pen) end() {
	clear(p.objects[len(p.objects):cap(p.objects)])
}

// Text writes s from x on and returns where it ends.
func (p *Pen) Text(style look.Style, x, base float32, s string) float32 {
	return p.Tinted(style, style.Color(p.Ink), x, base, s)
}

// Tinted is Text in another colour.
func (p *Pen) Tinted(style look.Style, c color.Color, x, base float32, s string) float32 {
	if s == "" {
		return x
	}
	if p.text == len(p.texts) {
		p.texts = append(p.texts, &canvas.Text{})
	}
	t := p.texts[p.text]
	p.text++
	size, ascent := fyne.CurrentApp().Driver().RenderedTextSize(s, style.Size(), fyne.TextStyle{}, style.Font())
	t.Text, t.FontSource, t.TextSize, t.Color = s, style.Font(), style.Size(), c
	t.TextStyle.Italic = style == look.Emphasis // or what leans over the end is cut off
	t.Resize(size)
	t.Move(fyne.NewPos(whole(x), whole(base-ascent)))
	p.objects = append(p.objects, t)
	return x + size.Width
}

// whole returns the next whole unit: letters between two pixels are blurred by
// a graphics card.
func whole(v float32) float32 { return float32(math.Round(float64(v))) }

// Right writes s so that it ends at x, and returns where it begins.
func (p *Pen) Right(style look.Style, x, base float32, s string) float32 {
	return p.RightTinted(style, style.Color(p.Ink), x, base, s)
}

// RightTinted is Right in another colour.
func (p *Pen) RightTinted(style look.Style, c color.Color, x, base float32, s string) float32 {
	x -= p.Wide(style, s)
	p.Tinted(style, c, x, base, s)
	return x
}

// Middle writes s with its middle at x.
func (p *Pen) Middle(style look.Style, x, base float32, s string) {
	p.Text(style, x-p.Wide(style, s)/2, base, s)
}

// Fit writes s from x on, cut with an ellipsis where it would be wider than
// width, and returns where it ends.
func (p *Pen) Fit(style look.Style, x, base, width float32, s string) float32 {
	return p.Text(style, x, base, style.Fit(s, width, 1))
}

// Wide returns how wide s is.
func (p *Pen) Wide(style look.Style, s string) float32 {
	if s == "" {
		return 0
	}
	return style.Measure(s).Width
}

// Level draws a level hairline from (x, y), width long.
func (p *Pen) Level(x, y, width float32, c color.Color) { p.Box(x, y, width, 1, c, nil) }

// Upright draws an upright hairline from (x, y) down, height long.
func (p *Pen) Upright(x, y, height float32, c color.Color) { p.Box(x, y, 1, height, c, nil) }

// Dashes draws a level dashed hairline: on units drawn, on units left out.
func (p *Pen) Dashes(x, y, width, on float32, c color.Color) {
	for at := float32(0); at < width; at += 2 * on {
		p.Level(x+at, y, min(on, width-at), c)
	}
}

// Box draws a rectangle, filled and outlined; nil leaves either out.
func (p *Pen) Box(x, y, width, height float32, fill, outline color.Color) {
	if p.box == len(p.boxes) {
		p.boxes = append(p.boxes, &canvas.Rectangle{})
	}
	b := p.boxes[p.box]
	p.box++
	b.FillColor, b.StrokeColor, b.StrokeWidth = fill, outline, 0
	if fill == nil {
		b.FillColor = color.Transparent
	}
	if outline != nil {
		b.StrokeWidth = 1
	}
	b.Move(fyne.NewPos(x, y))
	b.Resize(fyne.NewSize(max(width, 0), max(height, 0)))
	p.objects = append(p.objects, b)
}

// Put lays another object on the leaf.
func (p *Pen) Put(o fyne.CanvasObject, x, y, width, height float32) {
	o.Move(fyne.NewPos(whole(x), whole(y)))
	o.Resize(fyne.NewSize(max(width, 0), max(height, 0)))
	p.objects = append(p.objects, o)
}

// Word writes a text that can be pressed and returns its place and its end.
func (p *Pen) Word(name string, style look.Style, x, base float32, s string) (*Place, float32) {
	end := p.Text(style, x, base, s)
	place := p.Place(name, x, base-p.Em*1.15, end-x, p.Em*1.6)
	return place, end
}

// Place marks a part of the leaf that answers to the mouse and the keyboard.
// Names are unique on a leaf. The pointer holds until the next place is marked.
func (p *Pen) Place(name string, x, y, width, height float32) *Place {
	p.places = append(p.places, Place{Name: name, X: x, Y: y, Width: width, Height: height})
	return &p.places[len(p.places)-1]
}

// Mark returns a number for the places that are marked from here on; see Turn.
func (p *Pen) Mark() int { return len(p.places) }

// Turn lets the wheel step over all places marked since mark that do not answer
// to it themselves: a list turns wherever the mouse is.
func (p *Pen) Turn(mark int, step func(n int)) {
	for i := range p.places[mark:] {
		if place := &p.places[mark+i]; place.wheel == nil && place.Step == nil {
			place.wheel = step
		}
	}
}
