// Package slew is the kind of module that limits how fast a voltage changes.
//
//	in -> rise or fall, linear or as an RC curve -> out
//
// Held by tests against first-order theory.
package slew

import (
	"lampblack/patch"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// Kind is the catalogue entry.
func Kind() *module.Kind { return &module.Kind{Kind: words, New: newSound, Bounded: true} }

var words = patch.Kind{
	Name: "slew", Title: "slew", Family: patch.Modulators, Symbol: "slew", Version: 1,
	Help: `Follows a voltage, but no faster than it is allowed to.

Between pitch and frequency it is portamento: notes glide into each other.
Behind a sample and hold, steps become a path; behind a gate, it is the
simplest envelope. Rise and fall have times of their own, so that a tune may
leap up and slide down.

    linear       at a constant rate: the written time is for a step of 1 (one
                 octave of pitch, the whole of an envelope); half a step takes
                 half of it
    exponential  as a capacitor through a resistor: the written time is one
                 time constant, in which 63.212 % of the way is done, whatever
                 its length; 86.466 % in two, 95.021 % in three

    out goes by 1/(time x sample rate), or by (in - out)(1 - e^(-1/(time x
    sample rate))), with every sample.

The sample on which in jumps still gives the old value: it is time 0 of the
curve. The first value that comes in is taken at once. With equal times,
exponential is a low-pass filter of one pole, 3.01 dB down at 1/(2 pi time);
linear, a sine of amplitude A and frequency f passes unchanged as long as
2 pi f A is below 1/time.

Source: first-order circuit theory, y = in x (1 - e^(-t/tau)).`,
	Inputs:  []patch.Input{{Name: "in", Help: "The voltage to be followed: a pitch, steps, a gate."}},
	Outputs: []patch.Output{{Name: "out", Control: true, Help: "The voltage, slowed down."}},
	Controls: []patch.Control{
		control.Time("rise", "Time on the way up, 0.1 ms to 60 s: for a step of 1 (linear) or one time constant (exponential). A change holds from where it stands on. A cord moves it in octaves: +1 oct doubles the time.", 0.1),
		control.Time("fall", "Time on the way down, 0.1 ms to 60 s: for a step of 1 (linear) or one time constant (exponential). A change holds from where it stands on. A cord moves it in octaves.", 0.1),
		control.Choice("curve", "Linear (constant rate) or exponential (an RC curve). A cord moves it by as many words.", "linear", "exponential"),
	},
}
