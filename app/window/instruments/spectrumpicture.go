package instruments

import (
	"lampblack/scope"
)

// spectrumPicture draws the spectra of both channels, or how far they differ.
type spectrumPicture struct {
	*picture
	m      *measure
	hold   [channels]scope.Hold
	held   spectrumKey // for which hold was begun
	levels [channels][]float64
	bands  [scope.Bands]float64
}

// spectrumKey is what must be the same for two spectra to be comparable.
type spectrumKey struct {
	columns, samples, show int
	window                 scope.Window
	linear, hold           bool
	at                     int64
}

func newSpectrumPicture(m *measure) *spectrumPicture {
	s := &spectrumPicture{m: m}
	s.picture = newPicture(s.spectrumLine)
	s.picture.peaks = true
	return s
}

// spectrumLine places a channel of the spectrum: full scale at the top. The
// difference has 0 dB in the middle.
func (s *spectrumPicture) spectrumLine(dst []scope.Column, i, h int) bool {
	w := &s.m.switches
	channel := i % channels
	switch {
	case i == beside:
		if w.show != showDifference || !s.ready(0) || !s.ready(1) {
			return false
		}
		levels := scope.Difference(s.columns(0, len(dst)), s.columns(1, len(dst)), s.levels[0], -w.span)
		stairs(dst, levels, h, func(db float64) float64 { return 0.5 - db/w.span })
		return true
	case w.show == showDifference || !s.ready(channel):
		return false
	}
	levels := s.columns(channel, len(dst))
	if i >= under {
		if !w.hold {
			return false
		}
		levels = s.heldLevels(channel, levels)
	}
	stairs(dst, levels, h, func(db float64) float64 { return -db / w.span })
	return true
}

func (s *spectrumPicture) ready(i int) bool {
	return s.m.connected[i] && len(s.m.samples[i]) > 0
}

// heldLevels returns the highest levels so far.
func (s *spectrumPicture) heldLevels(i int, levels []float64) []float64 {
	w := &s.m.switches
	key := spectrumKey{len(levels), w.samples, w.show, w.window, w.linear, w.hold, s.m.holdFrom}
	if key != s.held {
		s.held = key
		for k := range s.hold {
			s.hold[k].Reset()
		}
	}
	return s.hold[i].Take(levels, 0)
}

// stairs joins the levels of columns; at tells where a level lies, 0 at the top
// to 1.
func stairs(dst []scope.Column, levels []float64, h int, at func(db float64) float64) {
	before := 0.0
	for c, db := range levels {
		y := min(max(at(db), 0), 1) * float64(h)
		if c == 0 {
			before = y
		}
		dst[c] = scope.Column{Min: min(y, before), Max: max(y, before)}
		before = y
	}
}

// columns returns the levels of a channel in n columns: of its lines or of its
// third-octave bands.
func (s *spectrumPicture) columns(i, n int) []float64 {
	if cap(s.levels[i]) < n {
		s.levels[i] = make([]float64, n)
	}
	s.levels[i] = s.levels[i][:n]
	m := s.m
	if m.switches.show != showBands {
		return m.spectra[i].Columns(s.levels[i], m.rate, m.axis())
	}
	m.spectra[i].ThirdOctaves(s.bands[:], m.rate, scope.Band25Hz)
	axis, band := m.axis(), 0
	for c := range s.levels[i] {
		hz := axis.At((float64(c) + 0.5) / float64(n))
		for band < scope.Bands && above(hz, band) {
			band++
		}
		s.levels[i][c] = scope.Floor
		if low, _ := scope.Band25Hz.Edges(); band < scope.Bands && hz >= low {
			s.levels[i][c] = s.bands[band]
		}
	}
	return s.levels[i]
}

// above tells whether a frequency lies above a band, counted from the first.
func above(hz float64, band int) bool {
	_, high := (scope.Band25Hz + scope.Band(band)).Edges()
	return hz >= high
}
