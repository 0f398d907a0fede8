package partials

import (
	"math"

	"lampblack/patch/dsp/approx"
	"lampblack/patch/dsp/logarithm"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// table holds the rows as logarithms to the base 2.
type table struct {
	n         int
	octaves   [Most]float64 // of the ratio
	ratios    [Most]float64
	levels    [Most]float64 // how far below the loudest
	off       [Most]bool
	loudest   float64
	low, high float64 // octaves of the lowest and the highest partial that sounds
}

func read(rows [][]float64) table {
	t := table{n: min(len(rows), Most), loudest: math.Inf(-1), low: math.Inf(1), high: math.Inf(-1)}
	for k, row := range rows[:t.n] {
		t.ratios[k] = row[0]
		t.octaves[k] = logarithm.Log2(row[0])
		t.levels[k] = row[1] / logarithm.DecibelsPerOctave
		if t.off[k] = row[1] <= control.LevelMin; t.off[k] {
			continue
		}
		t.loudest = max(t.loudest, t.levels[k])
		t.low, t.high = min(t.low, t.octaves[k]), max(t.high, t.octaves[k])
	}
	for k := range t.n {
		t.levels[k] -= t.loudest
	}
	return t
}

// settings are the controls that move the whole table.
type settings struct{ stretch, stiffness, tilt, balance, reach, contrast float64 }

func at(c []module.Control, i int) settings {
	return settings{c[1].V[i], c[2].V[i], c[3].V[i], c[4].V[i], c[5].V[i], c[6].V[i]}
}

// shape is the table as the settings make it.
type shape struct {
	begun bool
	settings
	ratios [Most]float64
	levels [Most]float64 // factors
}

// follow brings the shape to new settings, as far as they have changed.
func (s *shape) follow(t *table, to settings) {
	was, begun := s.settings, s.begun
	s.settings, s.begun = to, true
	if !begun || was.stretch != to.stretch || was.stiffness != to.stiffness {
		s.place(t)
	}
	was.stretch, was.stiffness = to.stretch, to.stiffness
	if !begun || was != to {
		s.weigh(t)
	}
}

// place computes the ratios. Without stretch they are those of the table to the
// bit.
func (s *shape) place(t *table) {
	for k := range t.n {
		r := t.ratios[k]
		if s.stretch != 0 {
			r = approx.Exp2(float64(t.octaves[k] * (1 + s.stretch)))
		}
		if s.stiffness != 0 {
			r = float64(r * math.Sqrt((1+float64(s.stiffness*float64(r*r)))/(1+s.stiffness)))
		}
		s.ratios[k] = r
	}
}

// weigh computes the levels.
func (s *shape) weigh(t *table) {
	slope := logarithm.Log2(s.tilt)
	pivot := t.low
	if slope > 0 {
		pivot = t.high
	}
	reach := float64(s.reach * float64(t.n))
	sides := [2]float64{min(1-s.balance, 1), min(1+s.balance, 1)}
	for k := range t.n {
		share := sides[k&1]
		if left := reach - float64(k); left <= 0 {
			share = 0
		} else if left < 1 {
			share = float64(share * left)
		}
		if t.off[k] || share == 0 {
			s.levels[k] = 0
			continue
		}
		level := t.loudest + float64(s.contrast*t.levels[k]) + float64(slope*(t.octaves[k]-pivot))
		s.levels[k] = float64(share * approx.Exp2(level))
	}
}
