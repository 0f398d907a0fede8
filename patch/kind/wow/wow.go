// Package wow is the kind of module that lets the pitch waver as that of an old
// tape machine does.
//
//	left, right -> line; wow + flutter + drift -> place of the head -> left, right
//
// Held by tests: the deviation of the speed is what the controls say.
package wow

import (
	"lampblack/patch"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// Kind is the catalogue entry.
func Kind() *module.Kind {
	return &module.Kind{Kind: words, New: newSound, Bounded: true, Seeded: true}
}

var words = patch.Kind{
	Name: "wow", Title: "wow and flutter", Family: patch.Space, Symbol: "wow", Version: 1,
	Help: `Lets the pitch waver, as a tape or a record does that does not run evenly.

    wow      slow and regular: a hole that is not in the middle of the record
             (33 1/3 turns a minute are 0.556 Hz), a warped reel
    flutter  fast and regular: a capstan that is not round; heard as roughness
    drift    by chance: a belt that slips, a hand that brakes

Depth is the largest deviation of the speed from its mean, in %; that of
drift is the rms. 1 % is 17.2 cents. From a good machine one hears nothing up
to some 0.1 %; held notes of a piano betray 0.3 %.

The sound passes a line whose head moves to and fro. For a deviation of p at a
rate r it moves by

    A = p / (2 pi r)        0.2 % at 0.7 Hz: 0.45 ms to either side

so the sound is late by the A of all three together and 15 samples, and by
nothing more; with all depths at 0 it comes out unchanged, 15 samples late.
Drift goes from one random place to the next, rate of them a second, along a
smooth curve (6 x^5 - 15 x^4 + 10 x^3); its A is p/(0.976 rate), since the
root of the mean square of that curve's slope between random places of +-1
is rate x root(2/3 x 10/7) = 0.976 rate.

Left and right are on the same tape: they waver together. The place of the
random numbers is that of the patch's seed. Between samples the line is read
by a windowed sinc of 32 points: flat to 18 kHz at 48 kHz.

Sources: Doppler, ratio = 1 - dT/dt; names and ranges as in IEC 60386 (wow
below some 6 to 10 Hz, flutter above it; from memory). No weighting is
applied.`,
	Inputs: []patch.Input{
		{Name: "left", Help: "The sound, or its left side."},
		{Name: "right", Open: patch.OpenLeft, Help: "The right side. Left open it is the same as the left."},
	},
	Outputs: []patch.Output{
		{Name: "left", Help: "The left side as it comes from the tape."},
		{Name: "right", Help: "The right side as it comes from the tape."},
	},
	Controls: []patch.Control{
		control.Frequency("wow rate", "Cycles of the slow wavering a second, 0.2 to 6 Hz. A cord moves it in octaves or in Hz.", 0.2, 6, 0.7),
		depth("wow depth", "Largest deviation of the speed by the slow wavering, 0 to 2 %. A cord moves it in percent points.", 2, 0.2),
		control.Frequency("flutter rate", "Cycles of the fast wavering a second, 6 to 100 Hz. A cord moves it in octaves or in Hz.", 6, 100, 12),
		depth("flutter depth", "Largest deviation of the speed by the fast wavering, 0 to 1 %. A cord moves it in percent points.", 1, 0.05),
		control.Frequency("drift rate", "Random places a second, 0.5 to 50 Hz. A cord moves it in octaves or in Hz.", 0.5, 50, 3),
		depth("drift depth", "Deviation of the speed by chance, rms, 0 to 1 %. A cord moves it in percent points.", 1, 0.1),
	},
}

func depth(name, help string, most, start float64) patch.Control {
	return patch.Control{Name: name, Help: help, Scales: []patch.Scale{{
		Unit: "%", Max: most, Default: start,
		Moves: []patch.Move{{Unit: "%", Kind: patch.MoveLinear, Max: most}},
	}}}
}
