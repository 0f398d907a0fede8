package instruments

import (
	"fmt"
	"strings"

	"lampblack/app/window/calm"
	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
	"lampblack/app/window/plate"
	"lampblack/scope"
)

// spectrumPlate is the large spectrum.
type spectrumPlate struct {
	t        *Panel
	l        *Large
	picture  *spectrumPicture
	expected *expected
	rings    *rings
	list     *expectedList
	rows     float32 // height of the list when it was last laid out
	em       float32
	all      float32
}

func newSpectrumPlate(l *Large) *spectrumPlate {
	s := &spectrumPlate{t: l.panel, l: l, picture: newSpectrumPicture(l.panel.measure), expected: newExpected(l.panel)}
	s.rings = newRings(s.expected)
	s.picture.calm.Turns = new(calm.Turns) // the rings lie over it: they wait together
	s.rings.calm.Turns = s.picture.calm.Turns
	s.list = newExpectedList(s.expected)
	s.expected.changed = s.expectedChanged
	return s
}

func (s *spectrumPlate) Name() string { return "spectrum" }
func (s *spectrumPlate) Show(on bool) { s.expected.seen = on }
func (s *spectrumPlate) Beat()        { s.expected.beat(); s.picture.late(); s.rings.late() }

func (s *spectrumPlate) Redraw() {
	s.picture.raster.Refresh()
}

// expectedChanged draws what is expected anew, if it is seen.
func (s *spectrumPlate) expectedChanged() {
	if !s.expected.seen || s.expected.of() < 0 {
		return
	}
	s.rings.raster.Refresh()
	if p := s.list.height(&leaf.Pen{Em: s.em}, s.all); p != s.rows {
		s.l.Refresh() // more is to be told, or less
		return
	}
	s.list.Refresh()
}

func (s *spectrumPlate) Settings() []plate.Setting {
	t := s.t
	list := []plate.Setting{t.showSetting(), t.windowSetting(), t.noiseSetting(), t.samplesSetting(), t.averageSetting(),
		t.holdSetting(), t.axisSetting(), t.spanSetting()}
	return append(append(list, s.expected.settings()...), t.freezeSetting())
}

func (s *spectrumPlate) Write(p *leaf.Pen, area plate.Box) {
	on := s.expected.of() >= 0
	if on {
		s.em, s.all = p.Em, area.Height
		s.rows = s.list.height(p, area.Height)
		area.Height -= s.rows
	}
	b := area.Picture(p.Em)
	s.t.ruleLevels(p, b)
	plate.RuleFrequencies(p, b, s.t.measure.axis())
	p.Put(s.picture.raster, b.X, b.Y, b.Width, b.Height)
	if !on {
		return
	}
	p.Put(s.rings.raster, b.X, b.Y, b.Width, b.Height)
	s.rings.raster.Refresh()
	s.writePlace(p, b)
	p.Put(s.list, area.X, area.Y+area.Height, area.Width-p.Em*0.5, s.rows)
	s.list.Refresh()
}

func (s *spectrumPlate) Reading() (one, two string) { return s.reading(0), s.reading(1) }

// reading is the strongest lines of a channel and, after the first, its noise
// floor.
func (s *spectrumPlate) reading(i int) string {
	text, floor := s.t.peaksText(i), s.floorText(i)
	if text == "" || floor == "" {
		return text
	}
	first, others, more := strings.Cut(text, plate.Between)
	text = first + plate.Between + floor
	if more {
		text += plate.Between + others
	}
	return text
}

// floorText tells where the bins would stand if noise were all there is, between
// the ends of the axis, and its density.
func (s *spectrumPlate) floorText(i int) string {
	m := s.t.measure
	a := m.axis()
	floor := m.spectra[i].NoiseFloor(max(a.Low, m.lowest(i)), a.High, m.rate)
	if floor <= scope.Floor {
		return ""
	}
	return look.Shown(fmt.Sprintf("floor %s (%s in 1 Hz)", plate.Level(floor), plate.Level(m.spectra[i].Density(floor, m.rate))))
}

func (s *spectrumPlate) Files() []plate.File {
	files := []plate.File{{Setting: "numbers", Name: "spectrum.csv", Write: s.t.measure.writeSpectra,
		Hint: "a file for a spreadsheet (CSV): levels over frequency"}}
	if s.expected.of() >= 0 && len(s.expected.rows) > 0 {
		files = append(files, plate.File{Setting: "expected lines", Name: "expected.csv", Write: s.expected.writeCSV,
			Hint: "the table for a spreadsheet (CSV): expected, measured, differences, formulas"})
	}
	return append(files, printing("spectrum", s.t.printSpectrum))
}
