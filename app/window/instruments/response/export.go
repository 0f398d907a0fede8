package response

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"

	"lampblack/app/probing"
	"lampblack/app/window/look"
	"lampblack/app/window/plate"
	"lampblack/scope/picture"
	"lampblack/scope/sounding"
)

// Files are the numbers behind the lines, and the picture.
func (p *Plate) Files() []plate.File {
	if p.shown.form == probing.Words {
		return nil
	}
	return []plate.File{
		{Setting: "numbers", Name: "response.csv", Write: p.writeNumbers, Hint: "a file for a spreadsheet (CSV): the lines and the measured points"},
		{Setting: "picture", Name: "response.png", WriteAs: p.writeAs, Endings: plate.Pictures, Hint: "a picture for a page of notes, with scales and names: PNG, SVG or PDF"},
	}
}

var errNothing = errors.New("nothing has been computed or measured yet")

// writeNumbers writes every line and every row of rings as rows of field, line, x
// and y.
func (p *Plate) writeNumbers(w io.Writer) error {
	rows := [][]string{{"field", "line", "x", "x unit", "y", "y unit"}}
	add := func(f field, name string, points []sounding.Point) {
		for _, at := range points {
			if !math.IsNaN(at.Y) {
				rows = append(rows, []string{f.name, name, number(at.X), f.x.unit, number(at.Y), f.unit})
			}
		}
	}
	for _, f := range p.fields() {
		if f.x.of != "" {
			f.x.unit = f.x.of
		}
		for _, l := range f.lines {
			add(f, l.name, l.points)
		}
		add(f, "computed", f.bars)
		add(f, "measured", f.rings)
	}
	if len(rows) == 1 {
		return errNothing
	}
	out := csv.NewWriter(w)
	out.UseCRLF = true // RFC 4180
	if err := out.WriteAll(rows); err != nil {
		return fmt.Errorf("the numbers could not be written: %w", err)
	}
	return nil
}

func number(v float64) string { return strconv.FormatFloat(v, 'g', 9, 64) }

func (p *Plate) writeAs(w io.Writer, ending string) error {
	format, ok := map[string]picture.Format{".png": picture.PNG, ".svg": picture.SVG, ".pdf": picture.PDF}[ending]
	if !ok {
		return fmt.Errorf("there is no picture of the format %q", ending)
	}
	fields := p.fields()
	if len(fields) == 0 {
		return errNothing
	}
	one, two := p.Reading()
	o := picture.Options{Format: format, Ink: &picture.Paper, Title: p.shown.title, Aside: one}
	if look.Now().Name == "soot" {
		o.Ink = &picture.Soot
	}
	var all []picture.Field
	for i, f := range fields {
		g := f.printed()
		if i == 0 {
			g.Method = two
		}
		all = append(all, g)
	}
	return picture.Curves(w, all, o)
}

// printed is a field as package picture draws it.
func (f field) printed() picture.Field {
	by := f.x.times()
	g := picture.Field{Name: f.name, Share: float64(f.share), Rings: places(f.rings, by), RingName: "measured", Bars: places(f.bars, by),
		X: picture.Side{Low: by * f.x.low, High: by * f.x.high, Logarithmic: f.x.log, Unit: f.x.unit}, Y: picture.Side{Low: f.y.low, High: f.y.high, Unit: f.unit}}
	for _, l := range f.lines {
		d := picture.Drawn{Name: l.name, Places: places(l.points, by), Quiet: l.stroke == grey}
		d.Dash = [...]int{full: 0, dashed: 1, grey: 2, chained: 3}[l.stroke]
		g.Lines = append(g.Lines, d)
	}
	return g
}

func places(points []sounding.Point, by float64) []picture.Place {
	all := make([]picture.Place, len(points))
	for i, p := range points {
		all[i] = picture.Place{X: by * p.X, Y: p.Y}
	}
	return all
}
