package partials

import (
	"math"

	"lampblack/patch/dsp/lanes"
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

// whole is n, or a little more, so that it can be divided by four: what is computed
// four at a time leaves none over. What lies behind n is of no use to anyone.
func (t *table) whole() int { return (t.n + 3) &^ 3 }

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
	shares [Most]float64 // of the levels, see share
}

// follow brings the shape to new settings, as far as they have changed.
func (s *shape) follow(t *table, to settings) {
	was, begun := s.settings, s.begun
	s.settings, s.begun = to, true
	if !begun || was.stretch != to.stretch || was.stiffness != to.stiffness {
		s.place(t)
	}
	if !begun || was.reach != to.reach || was.balance != to.balance {
		s.share(t)
	}
	was.stretch, was.stiffness = to.stretch, to.stiffness
	if !begun || was != to {
		s.weigh(t)
	}
}

// place computes the ratios. Without stretch and stiffness they are those of the
// table to the bit.
func (s *shape) place(t *table) {
	r := s.ratios[:t.whole()]
	copy(r, t.ratios[:])
	if s.stretch != 0 {
		lanes.Scale(r, t.octaves[:], 1+s.stretch)
		lanes.Powers(r, 1)
	}
	if s.stiffness != 0 {
		least := 1 / (1 + s.stiffness)
		for k, v := range r {
			r[k] = float64(v * math.Sqrt(float64((1+float64(s.stiffness*float64(v*v)))*least)))
		}
	}
}

// weigh computes the levels.
func (s *shape) weigh(t *table) {
	slope := logarithm.Log2(s.tilt)
	pivot := t.low
	if slope > 0 {
		pivot = t.high
	}
	levels := s.levels[:t.whole()]
	for k := range levels {
		levels[k] = t.loudest + float64(s.contrast*t.levels[k]) + float64(slope*(t.octaves[k]-pivot))
	}
	lanes.Powers(levels, 1)
	lanes.Multiply(levels, levels, s.shares[:])
}

// share computes what the levels are multiplied by: 0 for what is off, beyond reach
// or behind the last partial.
func (s *shape) share(t *table) {
	reach := float64(s.reach * float64(t.n))
	sides := [2]float64{min(1-s.balance, 1), min(1+s.balance, 1)}
	for k := range s.shares {
		share := sides[k&1]
		switch left := reach - float64(k); {
		case left <= 0 || k >= t.n || t.off[k]:
			share = 0
		case left < 1:
			share = float64(share * left)
		}
		s.shares[k] = share
	}
}
