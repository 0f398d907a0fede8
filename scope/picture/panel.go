package picture

import (
	"image/color"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
)

// panel is one ruled field of a page with its axes.
type panel struct {
	*page
	box  vg.Rectangle // the field itself
	x, y axis
}

// The room around a field, in points.
const (
	gutter = 34. // left: numbers of the upright axis
	head   = 17. // above: name of the panel
	foot   = 15. // below: numbers of the level axis, if they are drawn
)

// names are the words around a panel.
type names struct {
	panel   string // its name, over its left corner
	unit    string // of the upright axis, over its numbers
	method  string // how it was measured, over its right corner
	x       string // unit of the level axis, beyond its end; "": it has no numbers
	noRules bool   // the field is covered by a picture
}

// field draws the ruling and axes of a panel within r.
func (p *page) field(r vg.Rectangle, x, y axis, n names) panel {
	box := r
	box.Min.X += p.pt(gutter)
	box.Max.Y -= p.pt(head)
	if n.x != "" {
		box.Min.Y += p.pt(foot)
	}
	box.Min.X, box.Max.X, box.Min.Y, box.Max.Y = p.snap(box.Min.X), p.snap(box.Max.X), p.snap(box.Min.Y), p.snap(box.Max.Y)
	f := panel{p, box, x, y}
	f.ruling(n)
	f.headings(n)
	return f
}

func (f panel) headings(n names) {
	base := f.box.Max.Y + f.pt(6)
	width := f.say(caps, 10, f.Ink.Drawn, f.box.Min.X, base, left, n.panel)
	f.say(text, 8, f.Ink.Quiet, f.box.Min.X-f.pt(6), base, right, n.unit)
	room := f.box.Size().X - width - f.pt(14)
	f.say(text, 8, f.Ink.Quiet, f.box.Max.X, base, right, f.fit(text, 8, n.method, room))
}

// at returns the place of a value on both axes.
func (f panel) at(x, y float64) vg.Point { return vg.Point{X: f.across(x), Y: f.up(y)} }

func (f panel) across(x float64) vg.Length {
	return f.box.Min.X + vg.Length(f.x.at(x))*f.box.Size().X
}

func (f panel) up(y float64) vg.Length {
	return f.box.Min.Y + vg.Length(f.y.at(y))*f.box.Size().Y
}

// ruling draws the ruled paper, the axes and their numbers.
func (f panel) ruling(n names) {
	upright, level := f.y.marks.Ticks(f.y.low, f.y.high), f.x.marks.Ticks(f.x.low, f.x.high)
	for _, t := range level {
		at := f.across(t.Value)
		if !n.noRules {
			f.line(at, f.box.Min.Y, at, f.box.Max.Y, f.Ink.Faint)
		}
		if n.x != "" {
			f.line(at, f.box.Min.Y, at, f.box.Min.Y-f.tick(t), f.Ink.Line)
		}
	}
	for _, t := range upright {
		at := f.up(t.Value)
		if !n.noRules {
			f.line(f.box.Min.X, at, f.box.Max.X, at, f.Ink.Faint)
		}
		f.line(f.box.Min.X, at, f.box.Min.X-f.tick(t), at, f.Ink.Line)
	}
	f.line(f.box.Min.X, f.box.Min.Y, f.box.Min.X, f.box.Max.Y, f.Ink.Line)
	f.line(f.box.Min.X, f.box.Min.Y, f.box.Max.X, f.box.Min.Y, f.Ink.Line)
	f.uprightNumbers(upright)
	if n.x != "" {
		f.levelNumbers(level, n.x)
	}
}

func (f panel) tick(t plot.Tick) vg.Length {
	if t.Label == "" {
		return f.pt(1.8)
	}
	return f.pt(3.5)
}

func (f panel) uprightNumbers(ticks []plot.Tick) {
	const size = 8
	last := -f.pt(1000)
	for _, t := range thinned(ticks, int(f.box.Size().Y/f.pt(size*1.2))) {
		if at := f.up(t.Value); at-last >= f.pt(size) {
			f.say(figures, size, f.Ink.Quiet, f.box.Min.X-f.pt(6), at-f.pt(2.6), right, t.Label)
			last = at
		}
	}
}

// levelNumbers draws the numbers below the field, and their unit beyond its end.
func (f panel) levelNumbers(ticks []plot.Tick, unit string) {
	const size = 8
	base := f.box.Min.Y - f.pt(11.5)
	widest := vg.Length(0)
	for _, t := range ticks {
		widest = max(widest, f.wide(figures, size, t.Label))
	}
	last, end := -f.pt(1000), f.box.Max.X
	for _, t := range thinned(ticks, int(f.box.Size().X/(widest+f.pt(7)))) {
		half := f.wide(figures, size, t.Label) / 2
		at := f.across(t.Value)
		if at-half < last+f.pt(3) {
			continue
		}
		f.say(figures, size, f.Ink.Quiet, at, base, centre, t.Label)
		last = at + half
	}
	f.say(text, size, f.Ink.Quiet, max(last, end)+f.pt(4), base, left, unit)
}

// thinned leaves out labels, evenly, until no more than most are left; where it
// can, it keeps the first and the last.
func thinned(ticks []plot.Tick, most int) []plot.Tick {
	var named []plot.Tick
	for _, t := range ticks {
		if t.Label != "" {
			named = append(named, t)
		}
	}
	gaps := len(named) - 1
	least := 1
	for gaps/least+1 > max(most, 2) {
		least++
	}
	every := least
	for e := least; e <= 2*least; e++ {
		if gaps%e == 0 {
			every = e
			break
		}
	}
	var kept []plot.Tick
	for i := 0; i < len(named); i += every {
		kept = append(kept, named[i])
	}
	return kept
}

// key draws samples of lines with their names after the panel's own name, and
// returns where they end.
func (f panel) key(after string, lines ...keyLine) vg.Length {
	base := f.box.Max.Y + f.pt(6)
	x := f.box.Min.X + f.wide(caps, 10, after) + f.pt(12)
	for _, l := range lines {
		y := base + f.pt(2.4)
		f.stroke([]vg.Point{{X: x, Y: y}, {X: x + f.pt(18), Y: y}}, f.pt(l.width), l.colour, l.dash)
		x += f.pt(22) + f.say(text, 8, f.Ink.Quiet, x+f.pt(22), base, left, l.name) + f.pt(10)
	}
	return x
}

type keyLine struct {
	name   string
	colour color.Color
	dash   []float64
	width  float64 // points
}
