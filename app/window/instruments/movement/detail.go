package movement

import (
	"fmt"
	"math"

	"lampblack/app/desk"
	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
	"lampblack/app/window/plate"
)

// Measures of the chosen row drawn large, in ems.
const (
	causeRoom  = 2.15 // of a cord
	traceScale = 3.9  // of the figures beside the trace

	besideUnder = 8.5 // a trace that would be less high stands beside the cords
)

// writeDetail draws the chosen row large: its trace at the left, each cord's part
// in it at the right.
func (p *Plate) writeDetail(pen *leaf.Pen, area plate.Box) {
	n := p.at()
	if n < 0 {
		return
	}
	r, em := p.rows[n], pen.Em
	top := area.Y + 0.7*em
	area.Y, area.Height = top, area.Height-0.7*em
	if causes := p.causesHeight() * em; area.Height-causes >= besideUnder*em { // one below the other
		p.writeLarge(pen, r, plate.Box{X: area.X, Y: area.Y, Width: area.Width, Height: area.Height - causes})
		p.writeCauses(pen, r, plate.Box{X: area.X, Y: area.Y + area.Height - causes, Width: area.Width, Height: causes})
		return
	}
	left := plate.Box{X: area.X, Y: area.Y, Width: area.Width*0.48 - em, Height: area.Height}
	right := plate.Box{X: left.X + left.Width + 1.2*em, Y: area.Y, Height: area.Height}
	right.Width = area.X + area.Width - right.X
	p.writeLarge(pen, r, left)
	p.writeCauses(pen, r, right)
}

// causesHeight is what the cords of the chosen row take, in ems.
func (p *Plate) causesHeight() float32 {
	if p.causes == nil {
		return 0
	}
	return causeRoom*float32(len(p.causes.List())) + 2.8
}

// writeLarge rules the large trace: values at the left, time below.
func (p *Plate) writeLarge(pen *leaf.Pen, r *row, b plate.Box) {
	em := pen.Em
	b = plate.Box{X: b.X + traceScale*em, Y: b.Y + 0.3*em, Width: b.Width - traceScale*em, Height: b.Height - 2.2*em}
	pen.Box(b.X-1, b.Y-1, b.Width+2, b.Height+2, nil, pen.Ink.Faint)
	lo, hi := p.heights(r)
	level := func(v float64) float32 {
		return b.Y + b.Height*float32(1-(r.scale.Fraction(v)-lo)/(hi-lo))
	}
	free := []float32{}
	mark := func(v float64) {
		y := min(max(level(v), b.Y), b.Y+b.Height)
		for _, other := range free {
			if y > other-em && y < other+em {
				return
			}
		}
		free = append(free, y)
		pen.Level(b.X-0.3*em, y, 0.3*em, pen.Ink.Line)
		text := look.Small.Fit(look.Shown(r.written(v)), (traceScale-0.5)*em, 1)
		pen.Right(look.Small, b.X-0.45*em, y+0.28*em, text)
	}
	if r.moved {
		mark(r.least)
		mark(r.most)
	}
	mark(r.setting.Value)
	if p.whole {
		mark(r.scale.Min)
		mark(r.scale.Max)
	}
	pen.Put(p.enlarged.raster, b.X, b.Y, b.Width, b.Height)
	foot := b.Y + b.Height + 1.15*em
	if seconds := p.span(r); seconds <= inSamples {
		pen.Text(look.Small, b.X, foot, "0")
		pen.Right(look.Small, b.X+b.Width, foot, plate.Time(threeFigures(seconds)))
	} else {
		pen.Text(look.Small, b.X, foot, plate.SignedTime(-threeFigures(seconds)))
		pen.Right(look.Small, b.X+b.Width, foot, "now")
	}
}

// threeFigures rounds a time to as many figures as are read off a scale.
func threeFigures(v float64) float64 {
	unit := math.Pow(10, math.Floor(math.Log10(v))-2)
	return math.Round(v/unit) * unit
}

// written is value for what is known without measuring.
func (r *row) written(v float64) string {
	known := *r
	known.moved = true
	return known.value(v)
}

// writeCauses writes each cord: where it comes from, its depth, how its signal
// moves and its share; below a bar over the control's scale.
func (p *Plate) writeCauses(pen *leaf.Pen, r *row, b plate.Box) {
	if p.causes == nil {
		return
	}
	em := pen.Em
	list := p.causes.List()
	room := max(int((b.Height-1.2*em)/(causeRoom*em)), 1)
	y := b.Y
	for i, c := range list {
		if i == room-1 && len(list) > room {
			pen.Text(look.Emphasis, b.X, y+1.05*em, fmt.Sprintf("and %d more: its ruler unfolds them all (Shift+Enter)", len(list)-i))
			y += causeRoom * em
			break
		}
		p.writeCause(pen, c, b.X, y+0.95*em, b.Width)
		p.drawCause(pen, r, c, plate.Box{X: b.X, Y: y + 1.3*em, Width: b.Width, Height: 0.6 * em})
		y += causeRoom * em
	}
	p.ruleScale(pen, r, b.X, y, b.Width)
	y += 1.3 * em
	for _, line := range look.Small.Wrap("box: the cord at full swing; bar: what it did; %: its share", b.Width) {
		if y+1.1*em > b.Y+b.Height {
			return
		}
		pen.Text(look.Small, b.X, y+0.95*em, line)
		y += 1.1 * em
	}
}

func (p *Plate) writeCause(pen *leaf.Pen, c desk.Cause, x, base, width float32) {
	em := pen.Em
	share := "–"
	if c.Share == c.Share {
		share = fmt.Sprintf("%.0f %%", 100*c.Share)
	}
	at := pen.RightTinted(look.Figures, pen.Ink.Modulation, x+width, base, share)
	end := min(at, x+width-2.6*em) - 0.8*em
	if rate := p.sourceRate(c.Cord); rate != "" && width > 15*em {
		end = pen.Right(look.Quiet, end, base, rate) - 0.8*em
	}
	name := p.session.SourceName(c.Cord.From)
	depth := look.Shown(c.Cord.Depth.Signed())
	name = look.Quiet.Fit(name, end-x-pen.Wide(look.Figures, depth)-0.5*em, 1)
	x = pen.Text(look.Quiet, x, base, name)
	pen.Text(look.Figures, x+0.5*em, base, look.Figures.Fit(depth, end-x-0.5*em, 1))
}

// drawCause draws what a cord can do as a box, as a line if that does not follow
// from the patch, and what it did as a bar, over the control's scale.
func (p *Plate) drawCause(pen *leaf.Pen, r *row, c desk.Cause, b plate.Box) {
	middle := float32(int(b.Y + b.Height/2))
	bar := func(least, most float64) (x, width float32) {
		from := min(max(r.scale.Fraction(least), 0), 1)
		to := min(max(r.scale.Fraction(most), 0), 1)
		return b.X + b.Width*float32(from), max(b.Width*float32(to-from), 2)
	}
	pen.Level(b.X, middle, b.Width, pen.Ink.Faint)
	pen.Upright(b.X+b.Width*float32(min(max(r.scale.Fraction(r.setting.Value), 0), 1)), b.Y-1, b.Height+2, pen.Ink.Line)
	if c.Worked {
		x, width := bar(c.Least, c.Most)
		if c.Known {
			half := float32(int(b.Height/2 + 0.5))
			pen.Box(x, middle-half, width, 2*half+1, nil, pen.Ink.Modulation)
		} else {
			pen.Level(x, middle, width, pen.Ink.Modulation)
		}
	}
	if c.Did {
		x, width := bar(c.DidLeast, c.DidMost)
		half := max(float32(int(0.12*pen.Em+0.5)), 1)
		pen.Box(x, middle-half, width, 2*half+1, pen.Ink.Modulation, nil)
	}
}

// ruleScale writes the ends of the scale that the bars lie over.
func (p *Plate) ruleScale(pen *leaf.Pen, r *row, x, y, width float32) {
	pen.Text(look.Small, x, y+0.85*pen.Em, look.Shown(r.written(r.scale.Min)))
	pen.Right(look.Small, x+width, y+0.85*pen.Em, look.Shown(r.written(r.scale.Max)))
}
