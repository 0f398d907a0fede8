// Package tilt is the kind of module that makes a sound brighter or darker: it
// tilts the spectrum around a pivot.
//
//	in -> one pole -> mix with in -> out
//
// Held by tests against the formula of its gain.
package tilt

import (
	"lampblack/patch"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// Kind is the catalogue entry.
func Kind() *module.Kind { return &module.Kind{Kind: words, New: newSound} }

var words = patch.Kind{
	Name: "tilt", Title: "tilt equaliser", Family: patch.Filters, Symbol: "tilt", Version: 1,
	Help: `Makes a sound brighter or darker with one control. What lies above the pivot
rises while what lies below falls, or the other way round. The pivot itself
keeps its level, so the sound does not get much louder or softer as a whole.

With A = 10^(tilt/20) and s = jf/pivot the gain is

    (1 + A s)/(A + s):

-tilt dB far below the pivot, 0 dB at it, +tilt dB far above. The middle is
nearly straight. It is steepest at the pivot:

    tilt     3     6     9    12    18    24  dB
    there    2.0   3.6   4.7   5.3   5.8   6.0  dB an octave

(6.02 (A^2 - 1)/(A^2 + 1)); below pivot/A and above A pivot it flattens out.
-tilt undoes tilt exactly.

s is that of the bilinear transform, j tan(pi f/rate)/tan(pi pivot/rate).

Source: first-order shelving filters, Zoelzer, Digital Audio Signal
Processing, 2nd ed. 2008, section 5.2; the symmetric form is algebra.`,
	Inputs:  []patch.Input{{Name: "in", Help: "The signal to be tilted."}},
	Outputs: []patch.Output{{Name: "out", Help: "The tilted signal; at a tilt of 0 dB it is the input, unchanged."}},
	Controls: []patch.Control{
		control.Frequency("pivot", "The frequency that keeps its level, 20 Hz to 20 kHz; at most 0.49 of the sample rate. A cord moves it in octaves or in Hz.", 20, 20000, 1000),
		{Name: "tilt", Help: "Gain far above the pivot, -24 dB (dark) to +24 dB (bright); far below it is as much the other way. A cord moves it in dB or as a factor.",
			Scales: []patch.Scale{{Unit: "dB", Min: -24, Max: 24, Moves: []patch.Move{patch.Decibels, patch.Factor}}}},
	},
}
