// Package width is the kind of module that makes a stereo picture narrower or
// wider.
//
//	left, right -> middle and side -> side x width -> left, right
//
// Held by tests: at 100 % nothing changes, at 0 % both sides are the same, to the
// bit.
package width

import (
	"lampblack/patch"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// Kind is the catalogue entry.
func Kind() *module.Kind { return &module.Kind{Kind: words, New: newSound} }

var words = patch.Kind{
	Name: "width", Title: "stereo width", Family: patch.Space, Symbol: "width", Version: 1,
	Help: `Makes a stereo picture narrower or wider, by its middle and its side.

    middle = (left + right)/2    what both loudspeakers have in common
    side   = (left - right)/2    what tells them apart

    left = middle + width x side,    right = middle - width x side

At 100 % nothing changes. At 0 % both sides are the middle: mono. At 200 %
the side is 6.02 dB louder than it was. Adding left and right gives the same
mono sum at any width, so widening never spoils the mono listener's sound;
but what lies only in the side is never heard there.

Mono below takes the side away below a frequency, 6 dB an octave (3.01 dB
down there), since deep notes on one side alone waste a loudspeaker's power
and cannot be cut on a record. At its lowest mark, 10 Hz, it is off, and
comes in up to 20 Hz.

Left and right as outputs; middle and side as well, for working on each alone.

Source: Blumlein, British patent 394,325, 1931 (sum and difference).`,
	Inputs: []patch.Input{
		{Name: "left", Help: "The left side of the sound."},
		{Name: "right", Open: patch.OpenLeft, Help: "The right side. Left open it is the same as the left: mono."},
	},
	Outputs: []patch.Output{
		{Name: "left", Help: "The left side at its new width."},
		{Name: "right", Help: "The right side at its new width."},
		{Name: "middle", Help: "(left + right)/2."},
		{Name: "side", Help: "(left - right)/2 times the width, without what mono below takes away."},
	},
	Controls: []patch.Control{
		control.Percent("width", "How loud the side is: 0 % mono, 100 % unchanged, 200 % twice as wide. A cord moves it in percent points.", 0, 200, 100),
		control.Frequency("mono below", "Below it the side is taken away, 6 dB an octave, 10 Hz (off) to 1 kHz. A cord moves it in octaves or in Hz.", 10, 1000, 10),
	},
}
