// Package quantiser is the kind of module that puts a pitch on a scale.
//
//	in -> nearest degree, with hysteresis and within a range -> out
//
// Held by tests against ISO 16 and the cents of just intervals.
package quantiser

import (
	"lampblack/patch"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// mostDegrees is how many degrees a scale may have.
const mostDegrees = 48

// Kind is the catalogue entry.
func Kind() *module.Kind { return &module.Kind{Kind: words, New: newSound, Bounded: true} }

var words = patch.Kind{
	Name: "quantiser", Title: "quantiser", Family: patch.Modulators, Symbol: "quantiser", Version: 1,
	Help: `Takes a pitch to the nearest degree of a scale.

A voltage that wanders or a sample and hold goes in, a tune comes out. The
scale is the table of degrees: each is an interval above the root, and all of
them stand in every octave again. It starts with the twelve semitones of equal
temperament; take rows away for a mode (0, 200, 400, 500, 700, 900, 1100 cents
is major), or write other intervals:

    just fifth 3:2    701.955 cents      just fourth 4:3   498.045 cents
    just third 5:4    386.314 cents      minor third 6:5   315.641 cents
    cents = 1200 x log2(ratio); 100 cents are 1/12 octave

Root is where degree 0 stands: 0 is A4 = 440 Hz (ISO 16), C is 3 semitones. A
cord into root transposes while it plays. Lowest and highest keep the tune in
an instrument's range: only degrees between them are taken, if there are any.

Halfway between two degrees a voltage that trembles would trill. With
hysteresis h the degree changes only when the new one is nearer than the old
one by h times their distance: for neighbours, h/2 of the step beyond the
middle. At 0 % the nearest is taken at all times, of two equally near ones the
lower.

Source: ISO 16:1975; for cents, Ellis in Helmholtz, On the sensations of tone
(1885).`,
	Inputs: []patch.Input{{Name: "in", Help: "A pitch in octaves, 0 = A4 = 440 Hz."}},
	Outputs: []patch.Output{
		{Name: "out", Control: true, Help: "The pitch of the degree in octaves, 0 = A4 = 440 Hz."},
		{Name: "trigger", Control: true, Help: "1 for the one sample on which another degree is taken, else 0."},
	},
	Controls: []patch.Control{
		pitch("root", "Where degree 0 of the scale stands, -10 to +10 octaves; 0 is A4, 3 semitones are C5.", 0),
		pitch("lowest", "The lowest pitch that is taken, -10 to +10 octaves.", -10),
		pitch("highest", "The highest pitch that is taken, -10 to +10 octaves. It holds where the two have been crossed.", 10),
		control.Percent("hysteresis", "By how much of their distance the new degree must be nearer than the old one, 0 to 90 %. A cord moves it in percent points.", 0, 90, 10),
	},
	Table: &patch.Table{
		Name: "degrees", Help: "The degrees of the scale within one octave, in any order. An interval of a whole octave counts as 0.",
		Least: 1, Most: mostDegrees, Drawn: patch.DrawnPoints,
		Columns: []patch.Column{{Name: "interval", Help: "How far above the root the degree stands, 0 to 1 octave; it may be written in cents or semitones.",
			Scale: patch.Scale{Unit: "oct", Max: 1}}},
		Start: semitones(),
	},
}

func pitch(name, help string, start float64) patch.Control {
	return patch.Control{Name: name, Help: help + " A cord moves it in octaves.", Scales: []patch.Scale{{
		Unit: "oct", Min: -10, Max: 10, Default: start, Moves: []patch.Move{{Unit: "oct", Kind: patch.MoveLinear, Max: 20}},
	}}}
}

// semitones are the degrees of twelve-tone equal temperament.
func semitones() (rows [][]float64) {
	for i := range 12 {
		rows = append(rows, []float64{float64(i) / 12})
	}
	return rows
}
