// Package control builds the controls which several kinds of module share, so
// that a level or a time reads and moves alike wherever it stands.
package control

import (
	"lampblack/patch"
	"lampblack/patch/dsp/lanes"
)

// LevelMin is the lowest mark of every level, in dB. There it is off: see Gain.
const LevelMin = -96

// floor is LevelMin as a factor, rounded up so that no rounding of
// 10^(-96/20) elsewhere lies above it.
const floor = 1.58489320e-05

// Gain returns the factor that a level's value stands for. It is the value
// itself, except that the last 6 dB above LevelMin run straight down to
// exactly 0, without a step: a level at its lowest mark is off.
func Gain(v float64) float64 {
	if v >= 2*floor {
		return v
	}
	return max(2*(v-floor), 0)
}

// Gains sets dst, as long as v, to the Gain of every value of v.
func Gains(dst, v []float64) { lanes.Above(dst, v, floor) }

// Frequency is a frequency in Hz on a logarithmic ruler, moved in octaves or
// by as many Hz.
func Frequency(name, help string, least, most, start float64) patch.Control {
	return patch.Control{Name: name, Help: help, Scales: []patch.Scale{{
		Unit: "Hz", Min: least, Max: most, Default: start, Taper: patch.Logarithmic,
		Moves: []patch.Move{patch.Octaves, {Unit: "Hz", Kind: patch.MoveLinear, Max: most}},
	}}}
}

// Level is a level in dB, LevelMin to most, moved as a factor or in dB.
func Level(name, help string, most, start float64) patch.Control {
	return patch.Control{Name: name, Help: help, Scales: []patch.Scale{{
		Unit: "dB", Min: LevelMin, Max: most, Default: start,
		Moves: []patch.Move{patch.Factor, patch.Decibels},
	}}}
}

// Percent is a share in %, moved in percent points.
func Percent(name, help string, least, most, start float64) patch.Control {
	return patch.Control{Name: name, Help: help, Scales: []patch.Scale{{
		Unit: "%", Min: least, Max: most, Default: start,
		Moves: []patch.Move{{Unit: "%", Kind: patch.MoveLinear, Max: 100}},
	}}}
}

// Time is a time in seconds, 0.1 ms to 60 s on a logarithmic ruler, moved in
// octaves (an octave up doubles the time).
func Time(name, help string, start float64) patch.Control {
	return patch.Control{Name: name, Help: help, Scales: []patch.Scale{{
		Unit: "s", Min: 0.0001, Max: 60, Default: start, Taper: patch.Logarithmic,
		Moves: []patch.Move{patch.Octaves},
	}}}
}

// Choice is one of several words; the first is where it starts. A cord moves it
// by as many words, to the nearest.
func Choice(name, help string, words ...string) patch.Control {
	most := float64(len(words) - 1)
	return patch.Control{Name: name, Help: help, Scales: []patch.Scale{{
		Max: most, Taper: patch.Stepped, Choices: words, Moves: []patch.Move{Steps(most)},
	}}}
}

// Count is a whole number, moved by as many, to the nearest.
func Count(name, help string, least, most, start float64) patch.Control {
	return patch.Control{Name: name, Help: help, Scales: []patch.Scale{{
		Min: least, Max: most, Default: start, Taper: patch.Stepped, Moves: []patch.Move{Steps(most - least)},
	}}}
}

// Steps is the move of a choice or a whole number: it adds, and the sum is
// rounded to the nearest.
func Steps(most float64) patch.Move {
	return patch.Move{Unit: "steps", Kind: patch.MoveLinear, Max: most}
}

// Number returns the whole number that the value of a stepped control stands
// for, 0 to most.
func Number(v float64, most int) int {
	return min(max(int(v+0.5), 0), most)
}
