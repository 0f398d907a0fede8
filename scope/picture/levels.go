package picture

import (
	"fmt"
	"io"
	"math"

	"gonum.org/v1/plot/vg"
)

// Curve is a level over time.
type Curve struct {
	Name   string // "short-term"
	Points []Point
}

// Mark is a level of its own: a target, a mean.
type Mark struct {
	Name  string // "integrated"
	Value float64
}

// Levels is what a picture of levels over time shows. The numbers are the
// caller's: a loudness meter's, a level meter's.
type Levels struct {
	Name      string  // over the picture: "Loudness"
	Unit      string  // "LUFS", "dBFS"
	From, To  float64 // of the time axis, in s
	Low, High float64 // of the level axis, in Unit; both 0: -60 to 0
	Curves    []Curve // at most four; they differ by dash
	Marks     []Mark  // drawn across, with their values
}

// LevelsOverTime draws levels over time: a loudness curve with its target, say.
func LevelsOverTime(w io.Writer, l Levels, o Options) error {
	if l.Low == 0 && l.High == 0 {
		l.Low = -60
	}
	switch {
	case !(l.To > l.From):
		return fmt.Errorf("the time axis goes from %g to %g s; it must rise; the picture was not drawn", l.From, l.To)
	case !(l.High > l.Low):
		return fmt.Errorf("the level axis goes from %g to %g %s; it must rise; the picture was not drawn", l.Low, l.High, l.Unit)
	case len(l.Curves) > len(dashes):
		return fmt.Errorf("there are %d curves; a picture shows %d; it was not drawn", len(l.Curves), len(dashes))
	}
	p, err := newPage(o, 1600, 1000)
	if err != nil {
		return err
	}
	p.levelsOverTime(p.sheet(), l)
	return p.finish(w)
}

func (p *page) levelsOverTime(r vg.Rectangle, l Levels) {
	x := axis{low: l.From, high: l.To, marks: evenly(10)}
	y := axis{low: l.Low, high: l.High, marks: evenly(max(2, min(12, int(r.Size().Y/p.pt(22)))))}
	f := p.field(r, x, y, names{panel: l.Name, unit: l.Unit, x: "s"})
	var lines []keyLine
	inks := [...]keyLine{
		{colour: p.Ink.Left, width: 1.2}, {colour: p.Ink.Right, width: 1},
		{colour: p.Ink.Drawn, width: 1}, {colour: p.Ink.Quiet, width: 1},
	}
	for _, m := range l.Marks {
		f.mark(m)
	}
	for i, c := range l.Curves {
		look := inks[i]
		look.name, look.dash = c.Name, dashes[i]
		for _, part := range f.unbroken(c.Points) {
			f.stroke(part, f.pt(look.width), look.colour, look.dash)
		}
		lines = append(lines, look)
	}
	f.key(l.Name, lines...)
}

// mark draws a level across with its name and value on it, at the right end.
func (f panel) mark(m Mark) {
	if !(m.Value >= f.y.low && m.Value <= f.y.high) {
		return
	}
	y := f.up(m.Value)
	f.stroke([]vg.Point{{X: f.box.Min.X, Y: f.snap(y)}, {X: f.box.Max.X, Y: f.snap(y)}}, f.hair, f.Ink.Drawn, dashes[2])
	base := y + f.pt(3)
	if base+f.pt(8) > f.box.Max.Y {
		base = y - f.pt(9)
	}
	width := f.say(figures, 8, f.Ink.Drawn, f.box.Max.X-f.pt(4), base, right, number(math.Round(m.Value*10)/10, 1))
	f.say(text, 8, f.Ink.Quiet, f.box.Max.X-f.pt(8)-width, base, right, m.Name)
}
