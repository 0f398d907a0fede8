package expect

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"strconv"

	"lampblack/scope"
)

// Heads are what stands over the cells of a row.
var Heads = []string{"line", "expected Hz", "dB", "measured Hz", "dB", "off by dB", "Hz"}

// Cells writes a row: its name, where and how strong the line should be, where and
// how strong it is, and the differences. What can't be read is told in place of
// the measured level.
func (r *Row) Cells() []string {
	cells := []string{r.Name, hertz(r.Hz), decibels(r.Level), "", "", "", ""}
	if r.Open() {
		cells[2] = decibels(r.Least) + " to " + decibels(r.Most)
	}
	if r.Band {
		cells[1] = fmt.Sprintf("%.1f", r.Hz)
	}
	switch r.Told {
	case TooNear:
		cells[4] = "too near"
	case TooWeak:
		cells[4] = "too weak"
	case Unclear:
		cells[4] = "unclear"
	case Read:
		if !r.Band && !math.IsNaN(r.FoundHz) {
			cells[3] = hertz(r.FoundHz)
		}
		cells[4] = decibels(r.Found)
		cells[5] = off(r.OffLevel())
		if hz := r.OffHz(); !math.IsNaN(hz) {
			cells[6] = off(hz)
		}
	}
	return cells
}

func hertz(hz float64) string { return fmt.Sprintf("%.2f", hz) }

func decibels(db float64) string {
	if db <= scope.Floor+1 {
		return "-inf"
	}
	return unsignedZero(fmt.Sprintf("%.2f", db))
}

// off writes a difference; one that rounds to nothing has no sign.
func off(v float64) string { return unsignedZero(fmt.Sprintf("%+.3f", v)) }

func unsignedZero(s string) string {
	if v, err := strconv.ParseFloat(s, 64); err == nil && v == 0 && (s[0] == '-' || s[0] == '+') {
		return s[1:]
	}
	return s
}

// Detail tells of one row where its level comes from, and what there is to say of
// its measurement.
func (r *Row) Detail() string {
	text := r.Formula
	if r.Note != "" {
		text += "; " + r.Note
	}
	if r.Open() {
		text += "; several parts meet here, and how their oscillators stand to each other is not known: anything between the two levels is right"
	}
	switch {
	case r.Told == TooNear:
		text += fmt.Sprintf("; %.2g s of sound would tell it from its neighbour", r.Needs)
	case r.Told == TooWeak:
		text += "; it is not looked for"
	case r.Told == Unclear:
		text += "; what else is there is nearly as strong"
	case r.Told == Read && r.Band:
		text += fmt.Sprintf("; noise strays: measured within about %.2g dB", r.Stray)
	case r.Told == Read && r.Stray > 0.005:
		text += fmt.Sprintf("; what else is there may have moved the reading by %.2g dB", r.Stray)
	}
	return text
}

// WriteCSV writes the table for a spreadsheet (RFC 4180); what there is not is an
// empty field.
func WriteCSV(w io.Writer, rows []Row) error {
	out := csv.NewWriter(w)
	out.UseCRLF = true
	head := []string{"line", "expected (Hz)", "expected (dBFS)", "at least (dBFS)", "at most (dBFS)", "measured (Hz)", "measured (dBFS)", "difference (dB)", "difference (Hz)", "formula", "note"}
	if err := out.Write(head); err != nil {
		return err
	}
	for i := range rows {
		r := &rows[i]
		line := []string{r.Name, figure(r.Hz), figure(r.Level), "", "", "", "", "", "", r.Formula, r.Note}
		if r.Open() {
			line[3], line[4] = figure(r.Least), figure(r.Most)
		}
		if r.Told == Read {
			line[5], line[6], line[7], line[8] = figure(r.FoundHz), figure(r.Found), figure(r.OffLevel()), figure(r.OffHz())
		}
		if err := out.Write(line); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

func figure(v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return ""
	}
	return strconv.FormatFloat(v, 'f', 6, 64)
}

// Summary tells how far the sound lies from what was expected, of lines down dB
// under the strongest at most, that was measured over so many seconds.
func Summary(rows []Row, down float64, rest Rest, seconds float64) string {
	lines, noise := rows, []Row(nil)
	for i := range rows {
		if rows[i].Band {
			lines, noise = rows[:i], rows[i:]
			break
		}
	}
	text, floor := "", scope.Floor
	if len(lines) > 0 {
		floor = lines[0].Level - down
	}
	if db, hz, n := Worst(lines, floor); n > 0 {
		text = fmt.Sprintf("%s over %.2f s: within %s dB, %s Hz", counted(n, "line"), seconds, small(db), small(hz))
	}
	if db, _, n := Worst(noise, scope.Floor); n > 0 {
		if text != "" {
			text += "; "
		}
		return text + fmt.Sprintf("%s of noise within %.1f dB%s", counted(n, "third octave"), db, chance(noise, db))
	}
	if text == "" {
		text = fmt.Sprintf("no line was read over %.2f s", seconds)
	}
	switch {
	case rest.Level > -100:
		return text + fmt.Sprintf("; else %.1f dB at %.0f Hz", rest.Level, rest.Hz)
	case rest.Level > -160:
		return text + fmt.Sprintf("; else at most %.1f dB", rest.Level)
	}
	return text + "; else nothing above -160 dB"
}

// chance tells by how much the band that is furthest off may stray.
func chance(noise []Row, db float64) string {
	for i := range noise {
		if math.Abs(noise[i].OffLevel()) == db {
			return fmt.Sprintf(" (chance there: %.1f dB)", noise[i].Stray)
		}
	}
	return ""
}

func counted(n int, of string) string {
	if n == 1 {
		return "1 " + of
	}
	return fmt.Sprintf("%d %ss", n, of)
}

// small writes a difference with two figures, or says that it is less than counts.
func small(v float64) string {
	switch {
	case v < 0.0001:
		return "0.0001"
	case v >= 10:
		return fmt.Sprintf("%.0f", v)
	}
	return strconv.FormatFloat(v, 'g', 2, 64)
}
