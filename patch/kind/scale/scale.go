// Package scale is the kind of module that scales, turns and shifts a voltage.
//
//	out = in x factor + offset, within limits if asked
package scale

import (
	"lampblack/patch"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// Kind is the catalogue entry.
func Kind() *module.Kind { return &module.Kind{Kind: words, New: newSound} }

var words = patch.Kind{
	Name: "scale", Title: "scale and offset", Family: patch.Modulators, Symbol: "scale", Version: 1,
	Help: `Makes a voltage larger or smaller, turns it over, and shifts it.

    out = in x factor + offset

    -1 to +1 becomes 0 to 1       factor 0.5, offset 50 %
    0 to 1 turned to 1 to 0       factor -1, offset 100 %
    a tune mirrored around A4     factor -1, offset 0 (pitch 0 is A4 = 440 Hz)
    an octave and a fifth higher  factor 1, offset 19 semitones

Offset is in % of full scale (100 % = 1) or in octaves (1 oct = 1, which a
pitch needs): the same number written in two ways. With nothing joined to in,
out is the offset alone, a steady voltage.

The limits cut off what goes beyond, if limits is on: lowest first, then
highest, so that highest holds where the two have been crossed. A voltage that
is cut off stays there, so a sine becomes flat on top.

Source: the formula; ISO 16 for A4.`,
	Inputs:  []patch.Input{{Name: "in", Help: "The voltage, or the sound, to be scaled."}},
	Outputs: []patch.Output{{Name: "out", Control: true, Help: "in x factor + offset."}},
	Controls: []patch.Control{
		{Name: "factor", Help: "What in is multiplied by, -10 to +10; below 0 turns it over. A cord adds to it as it is: a voltage of 1 with a depth of 2 x adds 2.",
			Scales: []patch.Scale{{Unit: "x", Min: -10, Max: 10, Default: 1, Moves: []patch.Move{{Unit: "x", Kind: patch.MoveLinear, Max: 20}}}}},
		voltage("offset", "What is added, -1000 to +1000 % of full scale, or -10 to +10 octaves.", 0),
		control.Choice("limits", "Whether lowest and highest cut off what goes beyond. A cord moves it by as many words.", "off", "on"),
		voltage("lowest", "With limits on, the least that comes out, -1000 to +1000 % of full scale, or -10 to +10 octaves.", -1),
		voltage("highest", "With limits on, the most that comes out, -1000 to +1000 % of full scale, or -10 to +10 octaves.", 1),
	},
}

// voltage is a number that can be written as a part of full scale or as a pitch.
func voltage(name, help string, start float64) patch.Control {
	return patch.Control{Name: name, Help: help + " A cord moves it in percent points or in octaves, as it is written.", Scales: []patch.Scale{
		{Unit: "%", Min: -1000, Max: 1000, Default: 100 * start, Moves: []patch.Move{{Unit: "%", Kind: patch.MoveLinear, Max: 2000}}},
		{Unit: "oct", Min: -10, Max: 10, Default: start, Moves: []patch.Move{{Unit: "oct", Kind: patch.MoveLinear, Max: 20}}},
	}}
}

type sound struct{}

func newSound(module.Setup) module.Sound { return sound{} }

// Block computes sample by sample. It keeps no state.
func (sound) Block(b *module.Block) {
	in, out := b.In[0][:b.N], b.Out[0][:b.N]
	factor, offset, limits := b.Controls[0].V[:b.N], b.Controls[1].V[:b.N], &b.Controls[2]
	for i, x := range in {
		out[i] = float64(x*factor[i]) + offset[i]
	}
	if limits.Steady && control.Number(limits.V[0], 1) == 0 {
		return
	}
	lowest, highest := b.Controls[3].V[:b.N], b.Controls[4].V[:b.N]
	for i, y := range out {
		if control.Number(limits.V[i], 1) == 1 {
			out[i] = min(max(y, lowest[i]), highest[i])
		}
	}
}
