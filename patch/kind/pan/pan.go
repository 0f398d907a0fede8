// Package pan is the kind of module that puts a signal at a place between two
// loudspeakers.
//
//	in x gain of the left -> left, in x gain of the right -> right
//
// Held by tests: the laws are exact at both ends, in the middle and between.
package pan

import (
	"lampblack/patch"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// Kind is the catalogue entry.
func Kind() *module.Kind { return &module.Kind{Kind: words, New: newSound} }

var words = patch.Kind{
	Name: "pan", Title: "pan", Family: patch.Space, Symbol: "pan", Version: 1,
	Help: `Puts a signal at a place between the left and the right loudspeaker, by the
level of each. With p = position, -1 (left) to +1 (right), and the angle
a = (p + 1) x 45 degrees:

    constant power  left = cos a,  right = sin a             middle -3.01 dB
    constant sum    left = (1 - p)/2,  right = (1 + p)/2     middle -6.02 dB
    between         the root of the product of both          middle -4.52 dB

In a room the two loudspeakers add as powers, so constant power sounds
equally loud everywhere. Where left and right will be added to mono, on a
small radio or in a telephone, they add as voltages: then constant sum keeps
the level. Between is the usual compromise. At both ends every law gives the
signal unchanged on one side and exactly nothing on the other.

Sources: sin^2 + cos^2 = 1; the three laws are common practice.`,
	Inputs: []patch.Input{{Name: "in", Help: "The signal to be placed."}},
	Outputs: []patch.Output{
		{Name: "left", Help: "The signal at the left's gain."},
		{Name: "right", Help: "The signal at the right's gain."},
	},
	Controls: []patch.Control{
		control.Percent("position", "Where the signal is heard: -100 % is left, 0 the middle, +100 % right. A cord moves it in percent points: a slow oscillator at a depth of 100 % sways from side to side.", -100, 100, 0),
		control.Choice("law", "How loud each side is on the way: constant power (middle -3 dB), between (-4.5 dB) or constant sum (-6 dB). A cord moves it by as many words.", "constant power", "between", "constant sum"),
	},
}
