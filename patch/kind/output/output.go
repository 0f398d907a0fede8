// Package output is the kind of module through which a patch is heard.
//
// The engine sums the outputs "left" and "right" (numbers 0 and 1) of every
// module of this kind: that sum is what the patch sounds like.
package output

import (
	"lampblack/patch"
	"lampblack/patch/dsp/lanes"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// Kind is the catalogue entry. The engine reads Out[0] and Out[1] of every
// output module as its left and right signal and adds them up.
func Kind() *module.Kind { return &module.Kind{Kind: words, New: newSound} }

var words = patch.Kind{
	Name: "output", Title: "output", Family: patch.Levels, Symbol: "output", Version: 1,
	Help: `What is joined here is heard, kept and delivered.

    left  = left in x level
    right = right in x level

A right side that is left open follows the left, so one cord gives the same
sound on both sides. Several output modules add up. Full scale is +-1.0
(0 dBFS); what passes it will be limited at the loudspeaker, and the meter
says so.

The level starts at -12 dB so that a first sound cannot hurt. Turn the
loudspeaker down before you open a level, narrow a filter or close a feedback
loop, and rest your ears: follow the rules on noise at work that hold where
you are.

Source: AES17 (full scale).`,
	Inputs: []patch.Input{
		{Name: "left", Help: "The sound of the left side."},
		{Name: "right", Open: patch.OpenLeft, Help: "The sound of the right side. Left open it follows the left."},
	},
	Outputs: []patch.Output{
		{Name: "left", Help: "What is heard on the left: full scale is +-1."},
		{Name: "right", Help: "What is heard on the right: full scale is +-1."},
	},
	Controls: []patch.Control{
		control.Level("level", "Level of what is heard, -96 dB (off) to +12 dB, -12 dB at the start. A cord moves it as a factor (x: depth 1 multiplies by the voltage) or in dB.", 12, -12),
	},
}

type sound struct{}

func newSound(module.Setup) module.Sound { return sound{} }

// Block sets the level of both sides. It keeps no state.
func (sound) Block(b *module.Block) {
	level := &b.Controls[0]
	scale(b.Out[0][:b.N], b.In[0], level)
	if !b.Joined[1] { // it follows the left
		copy(b.Out[1][:b.N], b.Out[0])
		return
	}
	scale(b.Out[1][:b.N], b.In[1], level)
}

func scale(out, in []float64, level *module.Control) {
	if level.Steady {
		lanes.Scale(out, in, control.Gain(level.V[0]))
		return
	}
	control.Gains(out, level.V[:len(out)])
	lanes.Multiply(out, in, out)
}
