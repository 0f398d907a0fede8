// Package dcblock is the kind of module that takes away what stands still: a
// high-pass filter far below hearing.
//
//	in -> in less its slow part -> out
//
// Held by tests against the formulas of its gain and of its step response.
package dcblock

import (
	"lampblack/patch"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// Kind is the catalogue entry.
func Kind() *module.Kind { return &module.Kind{Kind: words, New: newSound} }

var words = patch.Kind{
	Name: "dcblock", Title: "DC block", Family: patch.Filters, Symbol: "filter", Version: 1,
	Help: `Takes away what stands still in a sound: direct voltage. A voltage that is
added to a sound is not heard, but it uses up the room below full scale,
clicks where the sound starts and ends, and shifts what saturates or
multiplies: a ring modulator lets its other input through, a distortion
bends one side more. Such a voltage comes from recordings, from rectifying
and squaring, from feedback. Put this behind them.

With s = jf/cutoff the gain is

    one pole   s/(1 + s): 3.01 dB down at the cutoff, 6 dB an octave below.
               A step dies away with the time constant 1/(2 pi cutoff):
               15.9 ms at 10 Hz, 159 ms at 1 Hz.
    two poles  s^2/(s^2 + 1.414 s + 1), Butterworth: 3.01 dB down at the
               cutoff too, 12 dB an octave below; a step dies away sooner and
               dips to the other side by 20.8 % of itself (e^(-pi/2)).

Low for music (1 to 5 Hz bends no bass: one pole at 5 Hz takes 0.26 dB at 20
Hz and turns it by 14 degrees), higher for speech and for rumble, lowest to
let slow control voltages pass. The other way round, in less out is the slow
part alone.

s is that of the bilinear transform, which at these frequencies differs from
the analogue filter by less than rounding shows.

Sources: Butterworth, Wireless Engineer 7, 1930; RC circuit theory.`,
	Inputs:  []patch.Input{{Name: "in", Help: "The signal with something standing still in it."}},
	Outputs: []patch.Output{{Name: "out", Help: "The signal without it."}},
	Controls: []patch.Control{
		control.Frequency("cutoff", "Below it the signal is taken away, 0.1 Hz to 100 Hz: there it is 3.01 dB down. A cord moves it in octaves or in Hz.", 0.1, 100, 5),
		control.Choice("poles", "One pole: 6 dB an octave. Two poles: 12 dB an octave. A cord moves it by as many words.", "one", "two"),
	},
}
