package ruler

import (
	"fmt"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"lampblack/app/desk"
	"lampblack/app/window/look"
	"lampblack/patch"
)

// What the lines under an unfolded scale tell, and how they are reached.
const (
	causesHelp = "Box: how far a cord can move it, at the full swing of its signal. Bar: how far it did, and its share in %. Click a line for the cord's depth."
	foldHelp   = "What moves it, cord by cord (Shift+Enter)."
)

// causeHeight is that of a cord's line, in ems.
const causeHeight = 1.3

// causes are the lines that unfold under the scale, one a cord.
type causes struct {
	of    *desk.Causes // nil while they are folded
	shown int          // lines that the ruler was laid out for
}

// moved returns the control that cords move, and how many do.
func (r *Ruler) moved() (at patch.Socket, cords int) {
	c, ok := r.of.(controlOf)
	if !ok {
		return patch.Socket{}, 0
	}
	at = patch.Socket{Module: c.module, Name: c.control}
	return at, r.session.MovedBy(at)
}

// Unfold shows what each cord does to the control, or folds it again.
func (r *Ruler) Unfold() {
	at, cords := r.moved()
	switch {
	case r.causes.of != nil:
		r.causes.of = nil
		r.explain(r.of.help())
	case cords > 0:
		r.causes.of = r.session.NewCauses(at)
		r.causes.of.Read()
		r.explain(causesHelp)
	}
	r.refold()
}

// Unfolded tells whether it shows what each cord does.
func (r *Ruler) Unfolded() bool { return r.causes.of != nil }

// refold takes the height that the lines need.
func (r *Ruler) refold() {
	r.causes.shown = r.causeLines()
	r.Refresh()
	if r.OnTaller != nil {
		r.OnTaller()
	}
}

// causeLines is how many lines stand under the scale.
func (r *Ruler) causeLines() int {
	if r.causes.of == nil {
		return 0
	}
	_, cords := r.moved()
	return cords
}

// beatCauses reads the signals of the cords.
func (r *Ruler) beatCauses() {
	if r.causes.of == nil {
		return
	}
	r.causes.of.Read()
	if n := r.causeLines(); n != r.causes.shown {
		if n == 0 {
			r.causes.of = nil
		}
		r.refold()
		return
	}
	r.view.writeCauses(r.geometry())
}

// causesWord is what unfolds the lines, "" if nothing moves the control.
func (r *Ruler) causesWord() string {
	_, cords := r.moved()
	switch {
	case r.typing || cords == 0:
		return ""
	case r.causes.of != nil:
		return "fold"
	case cords == 1:
		return "1 cord"
	}
	return fmt.Sprintf("%d cords", cords)
}

// onCausesWord tells whether a point lies on it.
func (r *Ruler) onCausesWord(g row, at fyne.Position) bool {
	word := r.causesWord()
	x := float64(at.X)
	return word != "" && float64(at.Y) < g.top && x >= g.valueX-0.4*g.em && x < g.valueX+float64(look.Small.Measure(word).Width)+0.6*g.em
}

// causeAt returns the number of the line at a point, -1 for none.
func (r *Ruler) causeAt(g row, at fyne.Position) int {
	n := int(math.Floor((float64(at.Y) - g.height) / (causeHeight * g.em)))
	if n < 0 || n >= r.causeLines() {
		return -1
	}
	return n
}

// chooseCause chooses the cord of a line, so that its depth can be turned.
func (r *Ruler) chooseCause(n int) {
	list := r.causes.of.List()
	if n >= len(list) {
		return
	}
	for i, c := range r.session.Patch().Cords {
		if c.From == list[n].Cord.From && c.To == list[n].Cord.To {
			r.session.Select(desk.Selection{Cord: i, Note: -1})
			return
		}
	}
}

// causeLine is how a cord's line is drawn.
type causeLine struct {
	from, depth, share *canvas.Text
	can, did           *canvas.Rectangle
}

func newCauseLine() *causeLine {
	return &causeLine{&canvas.Text{}, &canvas.Text{}, &canvas.Text{}, &canvas.Rectangle{}, &canvas.Rectangle{}}
}

func (l *causeLine) objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{l.can, l.did, l.from, l.depth, l.share}
}

// layCauses makes as many lines as there are cords, in the colours of now.
func (v *rulerRenderer) layCauses(g row) {
	n := v.r.causeLines()
	for len(v.lines) < n {
		v.lines = append(v.lines, newCauseLine())
	}
	v.lines = v.lines[:n]
	ink := look.Now()
	for _, l := range v.lines {
		look.Quiet.Dress(l.from)
		look.Figures.Dress(l.depth)
		look.Figures.Dress(l.share)
		l.depth.TextSize, l.share.TextSize = look.Quiet.Size(), look.Quiet.Size()
		l.share.Color, l.did.FillColor = ink.Modulation, ink.Modulation
	}
	v.cords.Text = v.r.causesWord()
	look.Small.Dress(v.cords)
	v.cords.Color = ink.Modulation
	v.cords.Resize(v.cords.MinSize())
	v.cords.Move(look.Whole(fyne.NewPos(float32(g.valueX), 0)))
	v.setting.FillColor = ink.Line
	show(v.setting, n > 0)
	if n > 0 {
		s := v.r.of.scale()
		v.stand(v.setting, g.x(s.Fraction(v.r.of.setting().Value)), g.bottom, g.height+causeHeight*g.em*float64(n), 1)
	}
	v.writeCauses(g)
}

// writeCauses writes what each cord can do and did.
func (v *rulerRenderer) writeCauses(g row) {
	if v.r.causes.of == nil {
		return
	}
	s := v.r.of.scale()
	list := v.r.causes.of.List()
	for i, l := range v.lines {
		if i >= len(list) {
			return
		}
		c := list[i]
		top := g.height + causeHeight*g.em*float64(i)
		base := top + 0.95*g.em
		write := func(t *canvas.Text, style look.Style, x, room float64, right bool, text string) {
			text = style.Fit(text, float32(room), 1)
			size, ascent := fyne.CurrentApp().Driver().RenderedTextSize(text, t.TextSize, t.TextStyle, t.FontSource)
			if right {
				x -= float64(size.Width)
			}
			pos := look.Whole(fyne.NewPos(float32(x), float32(base)-ascent))
			if t.Text != text || t.Position() != pos {
				t.Text = text
				t.Resize(size)
				t.Move(pos)
				t.Refresh()
			}
		}
		end := g.width - 1.3*g.em
		write(l.from, look.Quiet, 1.3*g.em, g.scaleX0-1.9*g.em, false, v.r.session.SourceName(c.Cord.From))
		write(l.share, look.Figures, end, 3*g.em, true, shareText(c))
		write(l.depth, look.Figures, g.valueX, end-2.6*g.em-g.valueX, false, look.Shown(c.Cord.Depth.Signed()))
		v.drawCause(g, l, c, s, top)
	}
}

// shareText writes a share of a movement.
func shareText(c desk.Cause) string {
	if math.IsNaN(c.Share) {
		return "–"
	}
	return fmt.Sprintf("%.0f %%", 100*c.Share)
}

// drawCause draws what a cord can do as a box, as a line if that does not follow
// from the patch, and what it did as a bar.
func (v *rulerRenderer) drawCause(g row, l *causeLine, c desk.Cause, s *patch.Scale, top float64) {
	middle := math.Round(top + 0.65*g.em)
	bar := func(b *canvas.Rectangle, least, most, half float64) {
		x0, x1 := g.x(s.Fraction(least)), g.x(s.Fraction(most))
		v.stand(b, (x0+x1)/2, middle-half, middle+half, max(x1-x0, 2))
	}
	ink := look.Now().Modulation
	show(l.can, c.Worked)
	if c.Worked {
		if c.Known {
			l.can.FillColor, l.can.StrokeColor, l.can.StrokeWidth = look.Fade(ink, 0), ink, 1
			bar(l.can, c.Least, c.Most, math.Round(0.32*g.em))
		} else {
			l.can.FillColor, l.can.StrokeWidth = ink, 0
			bar(l.can, c.Least, c.Most, 0.5)
		}
	}
	show(l.did, c.Did)
	if c.Did {
		bar(l.did, c.DidLeast, c.DidMost, max(math.Round(0.13*g.em), 1.5))
	}
}
