package meters

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"lampblack/app/window/look"
	"lampblack/app/window/plate"
	"lampblack/scope/picture"
)

// Files is plate.Writer's.
func (p *Plate) Files() []plate.File {
	return []plate.File{
		{Setting: "numbers", Name: "loudness.csv", Write: p.writeNumbers,
			Hint: "a file for a spreadsheet (CSV): loudness ten times a second, at most of the last hour"},
		{Setting: "picture", Name: "loudness" + plate.Pictures[0], WriteAs: p.writePicture, Endings: plate.Pictures,
			Hint: "the loudness over time for a page of notes: PNG, SVG or PDF, as its name ends"},
	}
}

// formats are those of a picture, by the ending of its name.
var formats = map[string]picture.Format{".png": picture.PNG, ".svg": picture.SVG, ".pdf": picture.PDF}

var errNothing = errors.New("no loudness was measured yet: there is nothing to be written")

// entries returns what is written into files, and the time of the first, in s since
// the loudness was begun.
func (p *Plate) entries() (list []entry, from float64) {
	list = p.gauges.newest(p.shown.entries, entriesKept)
	return list, float64(p.shown.entries-int64(len(list))+1) / entriesEachSecond
}

func (p *Plate) writeNumbers(w io.Writer) error {
	list, from := p.entries()
	if len(list) == 0 {
		return errNothing
	}
	lines := [][]string{{"time (s)", "momentary (LUFS)", "short-term (LUFS)", "integrated (LUFS)"}}
	for i, e := range list {
		lines = append(lines, []string{
			strconv.FormatFloat(from+float64(i)/entriesEachSecond, 'f', 1, 64), number(e.momentary), number(e.short), number(e.integrated),
		})
	}
	out := csv.NewWriter(w)
	out.UseCRLF = true // RFC 4180
	if err := out.WriteAll(lines); err != nil {
		return fmt.Errorf("the numbers could not be written: %w", err)
	}
	return nil
}

// number writes a loudness; silence is left empty.
func number(v float32) string {
	if math.IsInf(float64(v), -1) {
		return ""
	}
	return strconv.FormatFloat(float64(v), 'f', 2, 64)
}

// level is a loudness of a drawn line, which silence breaks.
func level(v float32) float64 {
	if math.IsInf(float64(v), -1) {
		return math.NaN()
	}
	return float64(v)
}

func (p *Plate) writePicture(w io.Writer, ending string) error {
	list, from := p.entries()
	if len(list) < 2 {
		return errNothing
	}
	l := picture.Levels{
		Name: "loudness", Unit: p.unit(), From: from - 1./entriesEachSecond, To: from + float64(len(list)-1)/entriesEachSecond,
		Low: loudLow - 1, High: loudHigh + 5,
		Curves: []picture.Curve{{Name: "short-term"}, {Name: "momentary"}},
	}
	for i, e := range list {
		at := from + float64(i)/entriesEachSecond
		l.Curves[0].Points = append(l.Curves[0].Points, picture.Point{Second: at, Value: level(e.short)})
		l.Curves[1].Points = append(l.Curves[1].Points, picture.Point{Second: at, Value: level(e.momentary)})
	}
	l.Marks = p.marks()
	o := picture.Options{
		Ink: &picture.Paper, Format: formats[ending], Text: float64(min(max(look.Em()/look.TextSize, 1), 2)),
		Title: "loudness", Aside: p.set.of.String() + ", " + p.sinceText(&p.shown),
	}
	if _, cue, ok := p.session.CueOf(); ok {
		o.Title = strings.TrimSpace(cue.Cue.Number + " " + cue.Cue.Name)
	}
	if look.Now().Name == "soot" {
		o.Ink = &picture.Soot
	}
	return picture.LevelsOverTime(w, l, o)
}

// marks are the integrated loudness and the target of a picture: one where their
// words would lie over each other.
func (p *Plate) marks() (marks []picture.Mark) {
	integrated, none := p.shown.loud.Integrated, math.IsInf(p.shown.loud.Integrated, -1)
	if !none {
		marks = append(marks, picture.Mark{Name: "integrated", Value: integrated})
	}
	aim, _, aimless := p.set.aim()
	switch {
	case aimless:
	case !none && math.Abs(integrated-aim) < 2:
		marks[0].Name = "target " + bare(aim) + ", integrated"
	default:
		marks = append(marks, picture.Mark{Name: "target", Value: aim})
	}
	return marks
}
