package command

import (
	"fmt"
	"math"
	"strings"

	"lampblack/app/window/instruments/expect"
	"lampblack/scope"
)

const predictKeys = `With --json: name, at, note, rate (Hz), seconds (measured), claim {within (dB),
down (dB under the strongest), up (Hz)} (null if anything can't be predicted, or
moves), why [], moving [envelopes that had not settled], rows [{name, band, hz,
level, least, most (dBFS), formula, note, measured {hz, level, off_hz, off_level,
stray (dB)}, told}], rest {hz, level}: the strongest line that was not expected.
told is read, too near (to a neighbour), too weak or unclear; measured is null
unless it is read.`

type predictedJSON struct {
	Name    string             `json:"name"`
	At      string             `json:"at"`
	Note    string             `json:"note"`
	Rate    int                `json:"rate"`
	Seconds float64            `json:"seconds"`
	Claim   *claimJSON         `json:"claim"`
	Why     []string           `json:"why"`
	Moving  []string           `json:"moving"`
	Rows    []predictedRowJSON `json:"rows"`
	Rest    restJSON           `json:"rest"`
}

type claimJSON struct {
	Within float64 `json:"within"`
	Down   float64 `json:"down"`
	Up     float64 `json:"up"`
}

type predictedRowJSON struct {
	Name     string       `json:"name"`
	Band     bool         `json:"band"`
	Hz       float64      `json:"hz"`
	Level    float64      `json:"level"`
	Least    float64      `json:"least"`
	Most     float64      `json:"most"`
	Formula  string       `json:"formula"`
	Note     string       `json:"note,omitempty"`
	Measured *readingJSON `json:"measured"`
	Told     string       `json:"told"`
}

type readingJSON struct {
	Hz       *float64 `json:"hz"`
	Level    *float64 `json:"level"`
	OffHz    *float64 `json:"off_hz"`
	OffLevel *float64 `json:"off_level"`
	Stray    *float64 `json:"stray"`
}

type restJSON struct {
	Hz    float64  `json:"hz"`
	Level *float64 `json:"level"`
}

var toldWords = map[expect.Told]string{expect.NotYet: "not measured", expect.Read: "read", expect.TooNear: "too near", expect.TooWeak: "too weak", expect.Unclear: "unclear"}

func newPredictedJSON(p *predicted) predictedJSON {
	j := predictedJSON{Name: p.name, At: p.at.String(), Note: p.note, Rate: p.rate, Seconds: p.seconds,
		Why: append([]string{}, p.is.Why...), Moving: []string{}, Rows: []predictedRowJSON{}, Rest: restJSON{p.rest.Hz, figureOf(p.rest.Level)}}
	if len(p.is.Why) == 0 && len(p.moves) == 0 {
		j.Claim = &claimJSON{p.is.Within, p.is.Down, p.is.Up}
	}
	for _, m := range p.moves {
		j.Moving = append(j.Moving, m.String())
	}
	for i := range p.rows {
		r := &p.rows[i]
		row := predictedRowJSON{Name: r.Name, Band: r.Band, Hz: r.Hz, Level: r.Level, Least: r.Least, Most: r.Most, Formula: r.Formula, Note: r.Note, Told: toldWords[r.Told]}
		if r.Told == expect.Read {
			row.Measured = &readingJSON{figureOf(r.FoundHz), figureOf(r.Found), figureOf(r.OffHz()), figureOf(r.OffLevel()), figureOf(r.Stray)}
		}
		j.Rows = append(j.Rows, row)
	}
	return j
}

// figureOf is nil for what is no number, or silence.
func figureOf(v float64) *float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) || v <= scope.Floor {
		return nil
	}
	return &v
}

// printPredicted prints a table for people, of so many rows at most; 0: all.
func (s *session) printPredicted(p *predicted, most int) {
	note := p.note + " held"
	if p.note == "none" {
		note = "no note"
	}
	fmt.Fprintf(s.text, "%s at %s: %s\n", p.name, p.at, note)
	if len(p.moves) > 0 {
		var names []string
		for _, m := range p.moves {
			names = append(names, m.String())
		}
		fmt.Fprintf(s.text, "not settled, taken at the mean while it was measured: %s\n", strings.Join(names, ", "))
	}
	for _, why := range p.is.Why {
		fmt.Fprintln(s.text, wrap("not predicted: "+why, 78, ""))
	}
	switch {
	case len(p.rows) == 0 && len(p.is.Why) == 0:
		fmt.Fprintln(s.text, "silence is expected")
	case len(p.rows) > 0:
		fmt.Fprintln(s.text, expect.Summary(p.rows, p.is.Down, p.rest, p.seconds))
	}
	if len(p.is.Why) > 0 && len(p.rows) > 0 {
		fmt.Fprintln(s.text, "What follows is only a part of the sound; nothing is claimed of it.")
	} else if len(p.rows) > 0 && len(p.moves) == 0 {
		fmt.Fprintf(s.text, "claimed within %.2g dB, lines down to %.0f dB under the strongest and up to %.0f Hz\n", p.is.Within, p.is.Down, p.is.Up)
	}
	s.printRows(p.rows, most)
}

func (s *session) printRows(rows []expect.Row, most int) {
	if len(rows) == 0 {
		return
	}
	name, level := len("line"), 8
	shown := rows
	if most > 0 && len(rows) > most {
		shown = rows[:most]
	}
	for i := range shown {
		cells := shown[i].Cells()
		name, level = max(name, len([]rune(cells[0]))), max(level, len(cells[2])+1)
	}
	name = min(name, 40)
	line := func(c []string, formula string) {
		if r := []rune(c[0]); len(r) > name {
			c[0] = string(r[:name-1]) + "…"
		}
		text := fmt.Sprintf("%-*s%10s%*s%11s%9s%9s%8s  %s", name, c[0], c[1], level, c[2], c[3], c[4], c[5], c[6], formula)
		fmt.Fprintln(s.text, strings.TrimRight(text, " "))
	}
	fmt.Fprintln(s.text)
	line([]string{"", "expected", "", "measured", "", "off by", ""}, "")
	line([]string{"line", "Hz", "dB", "Hz", "dB", "dB", "Hz"}, "where it comes from")
	for i := range shown {
		line(shown[i].Cells(), shown[i].Detail())
	}
	if left := len(rows) - len(shown); left > 0 {
		fmt.Fprintf(s.text, "and %s more (--rows 0 prints all)\n", counted(left, "row"))
	}
}
