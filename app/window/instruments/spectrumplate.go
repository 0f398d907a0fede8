package instruments

import (
	"lampblack/app/window/leaf"
	"lampblack/app/window/plate"
)

// spectrumPlate is the large spectrum.
type spectrumPlate struct {
	t       *Panel
	picture *spectrumPicture
}

func newSpectrumPlate(l *Large) *spectrumPlate {
	return &spectrumPlate{t: l.panel, picture: newSpectrumPicture(l.panel.measure)}
}

func (s *spectrumPlate) Name() string { return "spectrum" }
func (s *spectrumPlate) Show(bool)    {}
func (s *spectrumPlate) Beat()        {}
func (s *spectrumPlate) Redraw()      { s.picture.raster.Refresh() }

func (s *spectrumPlate) Settings() []plate.Setting {
	t := s.t
	return []plate.Setting{t.showSetting(), t.windowSetting(), t.noiseSetting(), t.samplesSetting(), t.averageSetting(),
		t.holdSetting(), t.axisSetting(), t.spanSetting(), t.freezeSetting()}
}

func (s *spectrumPlate) Write(p *leaf.Pen, area plate.Box) {
	b := area.Picture(p.Em)
	s.t.ruleLevels(p, b)
	plate.RuleFrequencies(p, b, s.t.measure.axis())
	p.Put(s.picture.raster, b.X, b.Y, b.Width, b.Height)
}

func (s *spectrumPlate) Reading() (one, two string) { return s.t.peaksText(0), s.t.peaksText(1) }

func (s *spectrumPlate) Files() []plate.File {
	files := []plate.File{{Setting: "numbers", Name: "spectrum.csv", Write: s.t.measure.writeSpectra,
		Hint: "a file for a spreadsheet (CSV): levels over frequency"}}
	if s.t.measure.switches.show != showDifference {
		files = append(files, plate.File{Setting: "picture", Name: "spectrum.png", Write: s.t.printSpectrum, Hint: pictureHint})
	}
	return files
}
