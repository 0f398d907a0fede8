package meters

import (
	"image/color"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"

	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
)

// needle is a line that stands across a printed scale. It is a bare rectangle: to
// move it costs nothing but the next painting of the canvas.
type needle struct {
	line, strip *canvas.Rectangle // strip leads to it from the scale's foot; may be nil
	at          func(r *reading) (at float64, there bool)
	from        func(r *reading) float64 // where a strip begins; nil for the foot

	x, y, length, across, thick float32 // of the scale; how far the needle reaches across it
	upward                      bool    // the scale stands upright, its foot below
}

// needles are all that move on the plate.
type needles []*needle

// add lays a needle on the leaf.
func (all *needles) add(p *leaf.Pen, n needle, c color.Color, strip bool) {
	n.line = canvas.NewRectangle(c)
	if strip {
		n.strip = canvas.NewRectangle(c)
		p.Put(n.strip, n.x, n.y, 0, 0)
	}
	p.Put(n.line, n.x, n.y, 0, 0)
	*all = append(*all, &n)
}

// move puts the needles where they stand.
func (all needles) move(r *reading) {
	for _, n := range all {
		at, there := n.at(r)
		show(n.line, there)
		if n.strip != nil {
			show(n.strip, there)
		}
		if there {
			n.stand(r, float32(at))
		}
	}
}

func show(o *canvas.Rectangle, on bool) {
	if o.Hidden == on {
		o.Hidden = !on
	}
}

// stripThick is how thick a strip is, in units.
const stripThick = 2

func (n *needle) stand(r *reading, at float32) {
	foot := float32(0)
	if n.from != nil {
		foot = float32(n.from(r))
	}
	if n.upward {
		y := n.y + n.length*(1-at)
		lay(n.line, n.x, y-n.thick/2, n.across, n.thick)
		if n.strip != nil {
			lay(n.strip, n.x+(n.across-stripThick)/2, y, stripThick, n.length*(at-foot))
		}
		return
	}
	x := n.x + n.length*at
	lay(n.line, x-n.thick/2, n.y, n.thick, n.across)
	if n.strip != nil {
		lay(n.strip, n.x+n.length*foot, n.y+(n.across-stripThick)/2, n.length*(at-foot), stripThick)
	}
}

func lay(o *canvas.Rectangle, x, y, width, height float32) {
	o.Move(fyne.NewPos(x, y))
	o.Resize(fyne.NewSize(max(width, 0), max(height, 0)))
}

// figure is a text that follows the reading, a few times a second.
type figure struct {
	text  *canvas.Text
	style look.Style
	scale float32
	room  float32
	words func(r *reading) string
}

// write writes what is read now, and tells whether that is something else.
func (f *figure) write(r *reading) {
	if words := f.fit(f.words(r)); words != f.text.Text {
		f.text.Text = words
		f.text.Refresh()
	}
}

// fit leaves out the last of the parts, which commas or wide spaces divide, where
// there is no room.
func (f *figure) fit(words string) string {
	for f.style.MeasureAt(words, f.scale).Width > f.room {
		at := max(strings.LastIndex(words, "  "), strings.LastIndex(words, ", "))
		if at < 0 {
			break
		}
		words = words[:at]
	}
	return f.style.Fit(words, f.room, f.scale)
}

// figure lays a text that follows the reading on the leaf, room wide from x on, or
// to x if it ends there.
func (p *Plate) figure(pen *leaf.Pen, style look.Style, scale, x, base, room float32, align fyne.TextAlign, words func(r *reading) string) {
	f := &figure{style: style, scale: scale, room: room, words: words, text: style.Draw("")}
	f.text.TextSize *= scale
	f.text.Alignment = align
	size, ascent := fyne.CurrentApp().Driver().RenderedTextSize("0", f.text.TextSize, fyne.TextStyle{}, style.Font())
	if align == fyne.TextAlignTrailing {
		x -= room
	}
	f.text.Text = f.fit(words(&p.shown))
	pen.Put(f.text, x, base-ascent, room, size.Height)
	p.figures = append(p.figures, f)
}

// move shows what was read: needles at once, figures five times a second.
func (p *Plate) move() {
	if len(p.needles) == 0 {
		return
	}
	p.needles.move(&p.shown)
	look.Repaint(p.needles[0].line)
	if since := p.shown.frames - p.written; since < 0 || float64(since) >= p.gauges.rate/5 {
		p.writeFigures()
	}
}

func (p *Plate) writeFigures() {
	p.written = p.shown.frames
	for _, f := range p.figures {
		f.write(&p.shown)
	}
	if p.shown.entries != p.drawn {
		p.chart.Refresh()
	}
}
