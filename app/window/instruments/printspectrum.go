package instruments

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"lampblack/patch"
	"lampblack/scope"
	printed "lampblack/scope/picture"
)

// printColumns is how many columns a printed spectrum has.
const printColumns = 2400

// printSpectrum prints what the spectrum shows: the same levels, on the same axes.
func (t *Panel) printSpectrum(w io.Writer, f printed.Format) error {
	m := t.measure
	o, names, err := t.paper(f)
	if err != nil {
		return err
	}
	switch m.switches.show {
	case showBands:
		return t.printBands(w, o, names)
	case showDifference:
		return t.printDifference(w, o, names)
	}
	g := printed.OverFrequency{Name: "Spectrum", Unit: "dBFS", Method: m.method(), Axis: m.axis(), Low: -m.switches.span}
	s := &spectrumPicture{m: m}
	for i, role := range []printed.Role{printed.OfA, printed.OfB} {
		if s.ready(i) {
			g.Curves = append(g.Curves, printed.Spread{Name: "AB"[i:i+1] + "  " + names[i], Look: role, Values: slices.Clone(s.columns(i, printColumns))})
		}
	}
	g.Curves = append(g.Curves, t.heldCurves()...)
	if s.ready(0) {
		g.Peaks = m.peaks[0]
	}
	return printed.Over(w, g, o)
}

// heldCurves returns the highest levels so far, as they are drawn in the large
// spectrum.
func (t *Panel) heldCurves() (curves []printed.Spread) {
	large, ok := t.large.plates[ofSpectrum].(*spectrumPlate)
	if !ok || !t.measure.switches.hold {
		return nil
	}
	s := large.picture
	for i, name := range []string{"A held", "B held"} {
		if s.ready(i) && s.held.columns > 0 { // as many as it has on the screen, or they would begin anew
			levels := s.heldLevels(i, s.columns(i, s.held.columns))
			curves = append(curves, printed.Spread{Name: name, Look: printed.OfBefore, Values: slices.Clone(levels)})
		}
	}
	return curves
}

// printBands prints the thirds of an octave of what was measured last.
func (t *Panel) printBands(w io.Writer, o printed.Options, names [channels]string) error {
	m := t.measure
	sound := printed.Sound{Rate: int(m.rate)}
	for i := range channels {
		if m.connected[i] {
			newest := m.samples[i][max(len(m.samples[i])-m.switches.samples, 0):]
			sound.Channels = append(sound.Channels, wide(newest))
			o.Aside = strings.TrimSpace(o.Aside + "   " + "AB"[i:i+1] + "  " + names[i])
		}
	}
	return printed.Bands(w, sound, o)
}

var errOneProbe = errors.New("a difference takes two probes: put A and B on outputs first")

// printDifference prints how far B lies above A.
func (t *Panel) printDifference(w io.Writer, o printed.Options, names [channels]string) error {
	m := t.measure
	s := &spectrumPicture{m: m}
	if !s.ready(0) || !s.ready(1) {
		return errOneProbe
	}
	levels := scope.Difference(s.columns(0, printColumns), s.columns(1, printColumns), s.levels[0], -m.switches.span)
	return printed.Over(w, printed.OverFrequency{
		Name: "B less A", Unit: "dB", Method: m.method(), Axis: m.axis(), Low: -m.switches.span / 2, High: m.switches.span / 2, Zero: true,
		Curves: []printed.Spread{{Name: "B  " + names[1] + ", less A  " + names[0], Look: printed.OfBoth, Values: levels}},
	}, o)
}

// method tells how the spectra are measured.
func (m *measure) method() string {
	w := &m.switches
	text := fmt.Sprintf("%d samples, %s window", w.samples, w.window)
	if w.average > 1 {
		taken, _ := m.spectra[0].Taken()
		text += fmt.Sprintf(", mean of %d spectra", taken)
	}
	return text
}

// printGram prints the spectrogram as it is seen.
func (t *Panel) printGram(w io.Writer, f printed.Format) error {
	m, s := t.measure, t.measure.gram
	of := m.switches.gramOf
	o, names, err := t.paper(f)
	if err != nil {
		return err
	}
	if !m.connected[of] || s.gram == nil || s.gram.Len() == 0 {
		return errNothingYet
	}
	set := s.gram.Settings()
	across := float64(set.Hop*set.Frames) / m.rate
	levels := make([][]float32, set.Frames)
	for back := range s.gram.Len() {
		levels[set.Frames-1-back], _ = s.gram.Frame(back)
	}
	method := fmt.Sprintf("%s  %s   %d samples (%.0f ms), %s window", "AB"[of:of+1], names[of], set.Samples, float64(set.Samples)/m.rate*1000, set.Window)
	return printed.Shades(w, printed.Frames{
		Levels: levels, From: -across, Axis: set.Axis, Depth: m.switches.gramSpan, Method: method,
	}, s.move(), o)
}

var errNothingYet = errors.New("nothing has been drawn yet: put the probe on an output that sounds")

// move returns what is drawn over the spectrogram.
func (g *spectrogram) move() []printed.Move {
	if g.over.module == "" || g.moved == 0 {
		return nil
	}
	_, newest := g.gram.Frame(0)
	move := printed.Move{Name: g.over.String(), Unit: g.unit, Low: g.scale.Min, High: g.scale.Max, Logarithmic: g.scale.Taper == patch.Logarithmic}
	for i := max(g.moved-movesKept, 0); i < g.moved; i++ {
		at := &g.moves[i%movesKept]
		move.Points = append(move.Points, printed.Point{Second: float64(at.clock-newest) / g.m.rate, Value: at.value})
	}
	return []printed.Move{move}
}
