package picture

import (
	"errors"
	"fmt"
	"io"
	"math"

	"gonum.org/v1/plot/vg"
)

// Place is a point of a field, in the units of its axes. Y is NaN where a line is
// broken.
type Place struct{ X, Y float64 }

// Side is an axis of a field.
type Side struct {
	Low, High   float64
	Logarithmic bool // Low > 0: marked as frequencies are
	Unit        string
}

// Drawn is a line of a field.
type Drawn struct {
	Name   string // for the key; may be empty
	Places []Place
	Dash   int  // 0 unbroken, 1 to 3
	Quiet  bool // beneath the others: an earlier one
}

// Field is one ruled field of a page of curves: a response, a shape, a cycle.
type Field struct {
	Name, Method string // over its left corner, and over the right one
	X, Y         Side
	Share        float64 // of the height of the page; 0 counts as 1
	Lines        []Drawn
	Rings        []Place // measured points
	RingName     string  // for the key; may be empty
	Bars         []Place // hairlines from the foot up
}

// mostFields is how many fields fit on a page.
const mostFields = 4

// Curves draws fields one above the other. Unbroken and dashed lines are of one
// ink, so that nothing is lost in black and white; measured points are rings.
func Curves(w io.Writer, fields []Field, o Options) error {
	if len(fields) < 1 || len(fields) > mostFields {
		return fmt.Errorf("there are %d fields; a page has 1 to %d; it was not drawn", len(fields), mostFields)
	}
	shares := 0.0
	for i := range fields {
		if err := fields[i].check(); err != nil {
			return err
		}
		shares += fields[i].share()
	}
	p, err := newPage(o, 1600, 1000)
	if err != nil {
		return err
	}
	r := p.sheet()
	gap := p.pt(12)
	room := r.Size().Y - gap*vg.Length(len(fields)-1)
	for i := range fields {
		part := r
		part.Min.Y = r.Max.Y - room*vg.Length(fields[i].share()/shares)
		p.curves(part, fields[i])
		r.Max.Y = part.Min.Y - gap
	}
	return p.finish(w)
}

func (f Field) share() float64 {
	if f.Share > 0 {
		return f.Share
	}
	return 1
}

func (f Field) check() error {
	for _, s := range []Side{f.X, f.Y} {
		if !(s.High > s.Low) || s.Logarithmic && !(s.Low > 0) || math.IsInf(s.High-s.Low, 0) {
			return fmt.Errorf("an axis of %q goes from %g to %g; it must rise; the picture was not drawn", f.Name, s.Low, s.High)
		}
	}
	for _, l := range f.Lines {
		if l.Dash < 0 || l.Dash >= len(dashes) {
			return errors.New("there is no such dash; the picture was not drawn")
		}
	}
	return nil
}

func (s Side) axis(marks int) axis {
	if s.Logarithmic {
		return axis{low: s.Low, high: s.High, logarithmic: true, marks: frequencies{}}
	}
	return axis{low: s.Low, high: s.High, marks: evenly(marks)}
}

func (p *page) curves(r vg.Rectangle, c Field) {
	up := max(2, min(12, int(r.Size().Y/p.pt(22))))
	f := p.field(r, c.X.axis(12), c.Y.axis(up), names{panel: c.Name, unit: c.Y.Unit, method: c.Method, x: c.X.Unit})
	for _, b := range c.Bars {
		if b.X >= c.X.Low && b.X <= c.X.High && b.Y > c.Y.Low {
			x := f.across(b.X)
			f.stroke([]vg.Point{{X: x, Y: f.box.Min.Y}, {X: x, Y: f.up(min(b.Y, c.Y.High))}}, f.pt(1.4), f.Ink.Drawn, nil)
		}
	}
	var lines []keyLine
	for _, l := range c.Lines {
		look := keyLine{l.Name, f.Ink.Drawn, dashes[l.Dash], 1.1}
		if l.Quiet {
			look.colour, look.width = f.Ink.Line, 0.8
		}
		for _, part := range f.parts(l.Places) {
			f.stroke(part, f.pt(look.width), look.colour, look.dash)
		}
		if l.Name != "" {
			lines = append(lines, look)
		}
	}
	for _, at := range c.Rings {
		if f.holds(at) {
			f.circle(f.at(at.X, at.Y), f.pt(1.8), f.Ink.Left)
		}
	}
	end := f.key(c.Name, lines...)
	if c.RingName != "" && len(c.Rings) > 0 {
		base := f.box.Max.Y + f.pt(6)
		f.circle(vg.Point{X: end + f.pt(2), Y: base + f.pt(2.4)}, f.pt(1.8), f.Ink.Left)
		f.say(text, 8, f.Ink.Quiet, end+f.pt(8), base, left, c.RingName)
	}
}

func (f panel) holds(at Place) bool {
	return at.X >= f.x.low && at.X <= f.x.high && at.Y >= f.y.low && at.Y <= f.y.high
}

// parts places a line, broken where it leaves the field.
func (f panel) parts(places []Place) (parts [][]vg.Point) {
	var part []vg.Point
	end := func() {
		if len(part) > 1 {
			parts = append(parts, part)
		}
		part = nil
	}
	for i, at := range places {
		inside := at.X >= f.x.low && at.X <= f.x.high && at.Y == at.Y
		// A line that runs on beneath the field is drawn to its edge and no further.
		above := at.Y >= f.y.low && at.Y <= f.y.high
		near := i > 0 && places[i-1].Y >= f.y.low && places[i-1].Y <= f.y.high || i+1 < len(places) && places[i+1].Y >= f.y.low && places[i+1].Y <= f.y.high
		if !inside || !above && !near {
			end()
			continue
		}
		part = append(part, f.at(at.X, min(max(at.Y, f.y.low), f.y.high)))
	}
	end()
	return parts
}
