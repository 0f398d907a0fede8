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
	Shape                []float64 // some periods or the whole of it, in any unit
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

// nowColumn is the place of the present value among them.
const nowColumn = 5

// Modulation draws a table of what moves: control, setting, cords with depths,
// the swept range, the value now, the rate and a small drawing of the shape. Where
// no height is given the picture is as high as its rows are many.
func Modulation(w io.Writer, rows []Movement, o Options) error {
	tall := o.Height == 0
	p, err := newPage(o, 1600, 1000)
	if err != nil {
		return err
	}
	r := p.sheet()
	most := p.tableRoom(r, pageOfMoves)
	if tall && len(rows) > most {
		size := p.size
		o.Height = p.Height + int(math.Ceil(float64(p.pt(pageOfMoves.row*float64(len(rows)-most+1))/p.pixel)))
		if p, err = newPage(o, 1600, o.Height); err != nil {
			return err
		}
		p.size, p.hair = size, p.hair*vg.Length(size/p.size) // its words stay as they are
		r = p.sheet()
		most = p.tableRoom(r, pageOfMoves)
	}
	if len(rows) > most {
		return fmt.Errorf("there are %d rows; %d fit on a picture of %d x %d; it was not drawn", len(rows), most, p.Width, p.Height)
	}
	p.modulation(r, rows, pageOfMoves)
	return p.finish(w)
}

// tableLook is how a table of movements is set, in points.
type tableLook struct {
	row, size float64
	lead      float64 // from the name to the headings of the columns
	drawing   float64 // height of the small drawings
	now       string  // what the column of present values is called
}

var (
	pageOfMoves = tableLook{30, 9.5, 18, 19, "now"}
	partOfMoves = tableLook{12.5, 7.5, 14, 8, "at the end"} // of a summary
)

// head is how high everything over the first row is.
func (l tableLook) head() float64 { return 16 + l.lead }

func (p *page) tableRoom(r vg.Rectangle, look tableLook) int {
	return int((r.Size().Y - p.pt(look.head())) / p.pt(look.row))
}

// modulation draws the table from the upper edge of r on. Rows that do not fit
// are counted.
func (p *page) modulation(r vg.Rectangle, rows []Movement, look tableLook) {
	base := r.Max.Y - p.pt(10)
	p.say(caps, 10, p.Ink.Drawn, r.Min.X, base, left, "Modulation")
	if most := p.tableRoom(r, look); len(rows) > most {
		p.say(text, 8, p.Ink.Quiet, r.Max.X, base, right, fmt.Sprintf("%d more move; there is no room for them here", len(rows)-most))
		rows = rows[:max(most, 0)]
	}
	base -= p.pt(look.lead)
	place := func(c column) vg.Length { return r.Min.X + vg.Length(c.from)*r.Size().X }
	for i, c := range modulationColumns {
		name := c.name
		if i == nowColumn {
			name = look.now
		}
		p.say(text, 8, p.Ink.Quiet, place(c), base, c.align, name)
	}
	p.rule(r.Min.X, r.Max.X, base-p.pt(6), p.Ink.Line)
	top := base - p.pt(6)
	for _, m := range rows {
		p.movement(m, top-p.pt(look.row/2+look.size*3/9.5), r, place, look)
		top -= p.pt(look.row)
		p.rule(r.Min.X, r.Max.X, top, p.Ink.Faint)
	}
}

func (p *page) movement(m Movement, base vg.Length, r vg.Rectangle, place func(column) vg.Length, look tableLook) {
	size := look.size
	c := modulationColumns
	gap := p.pt(size * 8 / 9.5)
	width := p.say(caps, size+1, p.Ink.Drawn, r.Min.X, base, left, p.fit(caps, size+1, m.Module, 0.14*r.Size().X))
	setting := p.wide(figures, size, signed(m.Setting))
	p.say(text, size, p.Ink.Quiet, r.Min.X+width+gap, base, left, p.fit(text, size, m.Control, 0.31*r.Size().X-setting-width-2*gap))
	room := 0.25*r.Size().X + p.wide(figures, size, "8888 Hz") - max(p.wide(figures, size, signed(m.Lowest)), p.wide(figures, size, "8888 Hz"))
	cords := p.fit(figures, size, signed(strings.Join(m.Cords, "   ")), room)
	for i, words := range []string{m.Setting, cords, m.Lowest, m.Highest, m.Now, m.Rate} {
		ink := p.Ink.Drawn
		if i == 1 || i == 5 {
			ink = p.Ink.Modulation
		}
		p.say(c[i+1].face, size, ink, place(c[i+1]), base, c[i+1].align, signed(words))
	}
	middle := base + p.pt(size*3.5/9.5)
	half := p.pt(look.drawing / 2)
	box := vg.Rectangle{Min: vg.Point{X: place(c[7]), Y: middle - half}, Max: vg.Point{X: r.Max.X, Y: middle + half}}
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
