package instruments

import (
	"fmt"
	"io"

	"lampblack/app/desk"
	"lampblack/app/window/look"
	printed "lampblack/scope/picture"
)

const pictureHint = "a picture for a page of notes, with scales and names (PNG)"

// paper is how a picture is printed: in the ink of now.
func (t *Panel) paper(title string) (o printed.Options, names [channels]string, err error) {
	m := t.measure
	o = printed.Options{Ink: &printed.Paper, Title: title}
	if look.Now().Name == "soot" {
		o.Ink = &printed.Soot
	}
	names = [channels]string{t.session.Probe(desk.ProbeA).String(), t.session.Probe(desk.ProbeB).String()}
	if !m.connected[0] && !m.connected[1] || len(m.samples[0]) == 0 {
		err = errNowhere
	}
	return o, names, err
}

// printSpectrum prints the spectra of what was measured last.
func (t *Panel) printSpectrum(w io.Writer) error {
	m := t.measure
	o, names, err := t.paper("spectrum")
	if err != nil {
		return err
	}
	sound := printed.Sound{Rate: int(m.rate)}
	for i := range channels {
		if m.connected[i] {
			newest := m.samples[i][max(len(m.samples[i])-m.switches.samples, 0):]
			sound.Channels = append(sound.Channels, wide(newest))
			o.Aside += "   " + names[i]
		}
	}
	if m.switches.show == showBands {
		return printed.Bands(w, sound, o)
	}
	return printed.Spectrum(w, sound, o)
}

// printScope prints the picture that the scope shows.
func (t *Panel) printScope(w io.Writer) error {
	m := t.measure
	o, names, err := t.paper("scope")
	if err != nil {
		return err
	}
	if m.switches.plane {
		from, to := max(int(m.view.First), 0), min(int(m.view.First+m.view.Length)+1, len(m.samples[0]))
		return printed.XY(w, wide(m.samples[0][min(from, to):to]), wide(m.samples[1][min(from, to):to]), names[0], names[1], o)
	}
	g := printed.Oscillogram{
		NameA: names[0], NameB: names[1], Rate: m.rate, First: m.view.First, PerDivision: m.switches.time,
		UpA: m.switches.value[0], UpB: m.switches.value[1], Trigger: t.triggerText(),
	}
	g.A = wide(m.samples[0])
	if m.connected[1] {
		g.B = wide(m.samples[1])
	}
	if m.switches.cursors > 0 {
		for _, at := range m.cursors {
			g.Cursors = append(g.Cursors, at*m.length()/m.rate)
		}
	}
	return printed.Scope(w, g, o)
}

// triggerText tells how the picture was caught.
func (t *Panel) triggerText() string {
	w := &t.measure.switches
	switch {
	case !t.measure.triggered:
		return "running free"
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
