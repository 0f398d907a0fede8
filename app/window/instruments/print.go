package instruments

import (
	"fmt"
	"io"

	"lampblack/app/desk"
	"lampblack/app/window/look"
	printed "lampblack/scope/picture"
)

// pictureSetting writes what is shown as a printed picture.
func (t *Panel) pictureSetting() setting {
	return setting{name: "picture", text: "write …", tap: func() {
		if t.Save != nil {
			t.Save(t.large.shown.String()+".png", t.WritePicture)
		}
	}, hint: "a picture for a page of notes, with scales and names (PNG)"}
}

// prints tells whether what is shown can be printed: a strip chart, a
// difference and a spectrogram are no longer at hand as samples.
func (l *Large) prints() bool {
	w := &l.panel.measure.switches
	return l.shown == ofScope && !w.rolls() || l.shown == ofSpectrum && w.show != showDifference
}

// WritePicture prints what the large instrument shows, in the ink of now.
func (t *Panel) WritePicture(w io.Writer) error {
	m := t.measure
	o := printed.Options{Ink: &printed.Paper, Title: t.large.shown.String()}
	if look.Now().Name == "soot" {
		o.Ink = &printed.Soot
	}
	names := [channels]string{t.session.Probe(desk.ProbeA).String(), t.session.Probe(desk.ProbeB).String()}
	if !m.connected[0] && !m.connected[1] || len(m.samples[0]) == 0 {
		return errNowhere
	}
	switch {
	case t.large.shown == ofSpectrum:
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
	case m.switches.plane:
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
	return fmt.Sprintf("%s through %s %s", t.slopeSetting().text, t.levelSetting().text, t.sourceSetting().text)
}

func wide(samples []float32) []float64 {
	all := make([]float64, len(samples))
	for i, v := range samples {
		all[i] = float64(v)
	}
	return all
}
