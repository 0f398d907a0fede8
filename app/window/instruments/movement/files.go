package movement

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"

	"lampblack/app/window/look"
	"lampblack/app/window/plate"
	"lampblack/patch"
	"lampblack/scope/picture"
)

// Files is plate.Writer's.
func (p *Plate) Files() []plate.File {
	return []plate.File{
		{Setting: "numbers", Name: "modulation.csv", Write: p.writeNumbers,
			Hint: "a file for a spreadsheet (CSV): every control that is moved"},
		{Setting: "picture", Name: "modulation.png", Endings: plate.Pictures, WriteAs: p.writePicture,
			Hint: "the page as a picture: PNG, SVG or PDF, as its name ends"},
	}
}

// cordWords writes a cord as it stands beside a control: "sway +0.3 oct".
func (p *Plate) cordWords(c patch.Cord) string {
	return p.session.SourceName(c.From) + " " + c.Depth.Signed()
}

// writeNumbers writes a line for every row; numbers are in the control's unit.
func (p *Plate) writeNumbers(w io.Writer) error {
	p.read()
	lines := [][]string{{"module", "control", "unit", "setting", "cords", "lowest", "highest", "now", "rate (Hz)", "movement", "clamped"}}
	number := func(v float64, known bool) string {
		if !known {
			return ""
		}
		return strconv.FormatFloat(v, 'g', 9, 64)
	}
	for _, r := range p.rows {
		var cords []string
		for _, c := range r.Cords {
			cords = append(cords, p.cordWords(c))
		}
		clamped := ""
		if r.limited {
			clamped = r.ends()
		}
		how := r.rate.words(r.origin)
		if how == soon || how == none {
			how = "" // an empty cell is what a spreadsheet takes for unknown
		}
		lines = append(lines, []string{
			r.At.Module, r.At.Name, r.scale.Unit, number(r.setting.Value, true), strings.Join(cords, "; "),
			number(r.least, r.moved), number(r.most, r.moved), number(r.now, r.moved),
			number(r.rate.hz, r.rate.hz > 0), how, clamped,
		})
	}
	out := csv.NewWriter(w)
	out.UseCRLF = true // RFC 4180
	if err := out.WriteAll(lines); err != nil {
		return fmt.Errorf("the numbers could not be written: %w", err)
	}
	return nil
}

// shapeValues is how many values a printed shape has.
const shapeValues = 240

// writePicture prints the page in the ink of now.
func (p *Plate) writePicture(w io.Writer, ending string) error {
	p.read()
	o := picture.Options{Ink: &picture.Paper, Format: map[string]picture.Format{".svg": picture.SVG, ".pdf": picture.PDF}[ending]}
	if look.Now().Name == "soot" {
		o.Ink = &picture.Soot
	}
	if len(p.rows) == 0 {
		return fmt.Errorf("no control is moved: there is nothing to be drawn")
	}
	var rows []picture.Movement
	for _, r := range p.rows {
		m := picture.Movement{
			Module: r.At.Module, Control: r.At.Name, Setting: r.setting.String(),
			Lowest: r.value(r.least), Highest: r.value(r.most), Now: r.value(r.now), Rate: r.rate.words(r.origin),
		}
		for _, c := range r.Cords {
			m.Cords = append(m.Cords, p.cordWords(c))
		}
		for _, v := range p.line(nil, r, shapeValues) {
			if v == v { // what is not known yet is left out
				m.Shape = append(m.Shape, float64(v))
			}
		}
		rows = append(rows, m)
	}
	return picture.Modulation(w, rows, o)
}
