package instruments

import (
	"fmt"
	"io"
	"strings"

	"lampblack/app/desk"
	"lampblack/app/window/look"
	"lampblack/app/window/plate"
	"lampblack/scope"
	printed "lampblack/scope/picture"
)

const pictureHint = "a picture for a page of notes, with scales and names: PNG, SVG or PDF, as its name ends"

// printing returns the file of a picture, in every format.
func printing(name string, draw func(w io.Writer, f printed.Format) error) plate.File {
	return plate.File{Setting: "picture", Name: name + plate.Pictures[0], Hint: pictureHint, Endings: plate.Pictures,
		WriteAs: func(w io.Writer, ending string) error { return draw(w, formats[ending]) }}
}

var formats = map[string]printed.Format{".png": printed.PNG, ".svg": printed.SVG, ".pdf": printed.PDF}

// paper is how a picture is printed: in the ink and with the size of text of now,
// and with the cue that it belongs to over it.
func (t *Panel) paper(f printed.Format) (o printed.Options, names [channels]string, err error) {
	m := t.measure
	o = printed.Options{Ink: &printed.Paper, Format: f, Text: float64(min(max(look.Em()/look.TextSize, 1), 2))}
	if job, cue, ok := t.session.CueOf(); ok {
		o.Title, o.Aside = strings.TrimSpace(cue.Cue.Number+" "+cue.Cue.Name), job.Name
	}
	if look.Now().Name == "soot" {
		o.Ink = &printed.Soot
	}
	names = [channels]string{t.session.Probe(desk.ProbeA).String(), t.session.Probe(desk.ProbeB).String()}
	if !m.connected[0] && !m.connected[1] || len(m.samples[0]) == 0 {
		err = errNowhere
	}
	return o, names, err
}

// printScope prints the picture that the scope shows.
func (t *Panel) printScope(w io.Writer, f printed.Format) error {
	m := t.measure
	o, names, err := t.paper(f)
	if err != nil {
		return err
	}
	switch {
	case m.switches.plane:
		from, to := max(int(m.view.First), 0), min(int(m.view.First+m.view.Length)+1, len(m.samples[0]))
		return printed.XY(w, wide(m.samples[0][min(from, to):to]), wide(m.samples[1][min(from, to):to]), names[0], names[1], o)
	case m.switches.rolls():
		return printed.Strip(w, m.chart(names), o)
	}
	g := printed.Oscillogram{
		NameA: names[0], NameB: names[1], Rate: m.rate, First: m.view.First, PerDivision: m.switches.time,
		UpA: m.switches.value[0], UpB: m.switches.value[1], Trigger: t.triggerText(),
	}
	g.A = wide(m.samples[0])
	if m.connected[1] {
		g.B = wide(m.samples[1])
	}
	length := m.length() / m.rate
	for i := range channels {
		if m.hasKept[i] {
			g.Kept[i] = make([]scope.Column, printColumns)
			m.kept[i].Trace(g.Kept[i], m.switches.before*length, length)
		}
	}
	if m.switches.cursors > 0 {
		for _, at := range m.cursors {
			g.Cursors = append(g.Cursors, at*length)
		}
	}
	return printed.Scope(w, g, o)
}

// chart returns what the rolling scope shows.
func (m *measure) chart(names [channels]string) printed.Chart {
	w := &m.switches
	g := printed.Chart{NameA: names[0], NameB: names[1], PerDivision: w.time, UpA: w.value[0], UpB: w.value[1]}
	for i, of := range []*[]scope.Column{&g.A, &g.B} {
		if m.connected[i] && m.strips[i] != nil {
			*of = m.strips[i].Columns(make([]scope.Column, stripColumns))
		}
	}
	if w.cursors > 0 {
		for _, at := range m.cursors {
			g.Cursors = append(g.Cursors, (at-1)*w.time*10)
		}
	}
	return g
}

// triggerText tells how the picture was caught.
func (t *Panel) triggerText() string {
	w := &t.measure.switches
	switch {
	case !t.measure.triggered:
		return "running free"
	case w.source == onPasses:
		return "on the start of a pass"
	case w.source == onNotes:
		return "on the start of a note"
	}
	return fmt.Sprintf("%s through %s %s", t.slopeSetting().Text, t.levelSetting().Text, t.sourceSetting().Text)
}

func wide(samples []float32) []float64 {
	all := make([]float64, len(samples))
	for i, v := range samples {
		all[i] = float64(v)
	}
	return all
}
