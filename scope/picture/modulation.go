package picture

import (
	"fmt"
	"io"
	"math"
	"strings"

	"gonum.org/v1/plot/vg"
)

// Movement is a row of the modulation page: what happens to one control. The
// words are the caller's, with their units.
type Movement struct {
	Module, Control      string
	Setting              string
	Cords                []string // "sway +0.8 oct"
	Lowest, Highest, Now string
	Rate                 string    // how fast it moves: "0.31 Hz"
	Shape                []float64 // one period or the last seconds, in any unit
}

// column is one of a table: its heading, where it begins as a part of the width,
// and how it is set.
type column struct {
	name  string
	from  float64
	align align
	face  face
}

var modulationColumns = [...]column{
	{"control", 0, left, text}, {"setting", 0.31, right, figures}, {"cords and depths", 0.335, left, figures},
	{"lowest", 0.655, right, figures}, {"highest", 0.735, right, figures}, {"now", 0.815, right, figures},
	{"rate", 0.895, right, figures}, {"shape", 0.91, left, text},
}

// Modulation draws a table of what moves: control, setting, cords with depths,
// the swept range, the value now, the rate and a small drawing of the shape.
func Modulation(w io.Writer, rows []Movement, o Options) error {
	p, err := newPage(o, 1600, 1000)
	if err != nil {
		return err
	}
	r := p.sheet()
	most := p.tableRoom(r)
	if len(rows) > most {
		return fmt.Errorf("there are %d rows; %d fit on a picture of %d x %d; it was not drawn", len(rows), most, p.Width, p.Height)
	}
	p.modulation(r, rows)
	return p.finish(w)
}

const rowHeight = 30. // points

func (p *page) tableRoom(r vg.Rectangle) int {
	return int((r.Size().Y - p.pt(34)) / p.pt(rowHeight))
}

func (p *page) modulation(r vg.Rectangle, rows []Movement) {
	base := r.Max.Y - p.pt(10)
	p.say(caps, 10, p.Ink.Drawn, r.Min.X, base, left, "Modulation")
	base -= p.pt(18)
	place := func(c column) vg.Length { return r.Min.X + vg.Length(c.from)*r.Size().X }
	for _, c := range modulationColumns {
		p.say(text, 8, p.Ink.Quiet, place(c), base, c.align, c.name)
	}
	p.rule(r.Min.X, r.Max.X, base-p.pt(6), p.Ink.Line)
	top := base - p.pt(6)
	for _, m := range rows {
		base = top - p.pt(rowHeight/2+3)
		p.movement(m, base, r, place)
		top -= p.pt(rowHeight)
		p.rule(r.Min.X, r.Max.X, top, p.Ink.Faint)
	}
}

func (p *page) movement(m Movement, base vg.Length, r vg.Rectangle, place func(column) vg.Length) {
	const size = 9.5
	c := modulationColumns
	gap := p.pt(8)
	width := p.say(caps, size+1, p.Ink.Drawn, r.Min.X, base, left, p.fit(caps, size+1, m.Module, 0.14*r.Size().X))
	p.say(text, size, p.Ink.Quiet, r.Min.X+width+gap, base, left, p.fit(text, size, m.Control, 0.23*r.Size().X-width-gap))
	cords := p.fit(figures, size, strings.Join(m.Cords, "   "), 0.25*r.Size().X)
	for i, words := range []string{m.Setting, cords, m.Lowest, m.Highest, m.Now, m.Rate} {
		ink := p.Ink.Drawn
		if i == 1 || i == 5 {
			ink = p.Ink.Modulation
		}
		p.say(c[i+1].face, size, ink, place(c[i+1]), base, c[i+1].align, signed(words))
	}
	box := vg.Rectangle{Min: vg.Point{X: place(c[7]), Y: base - p.pt(6)}, Max: vg.Point{X: r.Max.X, Y: base + p.pt(13)}}
	p.small(box, m.Shape)
}

// small draws values as a curve that fills a box.
func (p *page) small(box vg.Rectangle, values []float64) {
	low, high := math.Inf(1), math.Inf(-1)
	for _, v := range values {
		low, high = min(low, v), max(high, v)
	}
	if len(values) < 2 || !(high >= low) {
		return
	}
	var points []vg.Point
	for i, v := range values {
		part := 0.5 // a value that stands still is a line in the middle
		if high > low {
			part = (v - low) / (high - low)
		}
		points = append(points, vg.Point{
			X: box.Min.X + vg.Length(i)/vg.Length(len(values)-1)*box.Size().X,
			Y: box.Min.Y + vg.Length(part)*box.Size().Y,
		})
	}
	p.stroke(points, p.pt(1), p.Ink.Modulation, nil)
}
