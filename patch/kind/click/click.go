// Package click is the kind of module that gives one click for each trigger.
//
//	trigger -> impulse, pulse or struck tone -> level -> out
//
// Held by tests against the definitions: an impulse is one sample, the pulse has
// the spectrum of a raised cosine, the tone the frequency and decay written.
package click

import (
	"lampblack/patch"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// Kind is the catalogue entry.
func Kind() *module.Kind { return &module.Kind{Kind: words, New: newSound, Bounded: true} }

var words = patch.Kind{
	Name: "click", Title: "click", Family: patch.Sources, Symbol: "click", Version: 1,
	Help: `One click for each trigger, the same every time. With t the time since the
trigger and T the duration:

    impulse  1 for exactly one sample, at the trigger. All frequencies at equal
             strength: what comes out of a filter is its impulse response, and
             the spectrum of that is its frequency response.
    pulse    a raised cosine, (1 - cos(2 pi t/T))/2 up to T: a soft tap.
             Its spectrum is 1.4 dB down at 1/(2T), half (-6 dB) at 1/T,
             gone at 2/T and at least 31 dB down from there on. T is never
             less than two samples.
    tone     a struck tone, sin(2 pi f t) x 10^(-3 t/T): it falls by 60 dB
             within T. It begins at 0, so what folds at half the sample rate is
             weak: at 48 kHz 60 dB below the peak of the spectrum for 1 kHz and
             a T of 5 ms.

Use the impulse to test: into a filter, a delay or a room, and look at the
spectrum. Use the pulse as a drop, a tick or the knock that sets off a
resonator; a slower trigger makes a rhythm, a faster one a tone of that
frequency. Clicks that overlap add up, eight at most: a ninth takes the
place of the oldest.

Shape, polarity: read at the trigger. Duration, frequency and level may move
while the click sounds.

Sources: raised cosine (Hann) and its side lobe of -31.5 dB: Harris, Proc.
IEEE 66(1), 1978; the decay as in ISO 3382, 60 dB.`,
	Inputs: []patch.Input{
		{Name: "trigger", Open: patch.OpenTrigger, Help: "Rising through 0.5 gives a click, on that sample. Left open it follows the note being played."},
	},
	Outputs: []patch.Output{
		{Name: "out", Help: "The click; at a level of 0 dB an impulse and a pulse peak at 1."},
	},
	Controls: []patch.Control{
		control.Choice("shape", "Impulse (one sample), pulse (raised cosine) or tone (struck, dying away). Read at the trigger. A cord moves it by as many words.", "impulse", "pulse", "tone"),
		{Name: "duration", Help: "Length of a pulse, or time in which a tone falls by 60 dB: 0.02 to 20 ms. An impulse has none. A cord moves it in octaves.",
			Scales: []patch.Scale{{Unit: "s", Min: 0.00002, Max: 0.02, Default: 0.001, Taper: patch.Logarithmic, Moves: []patch.Move{patch.Octaves}}}},
		control.Frequency("frequency", "Of the tone, 20 Hz to 20 kHz; at most 0.49 of the sample rate. A cord moves it in octaves or in Hz.", 20, 20000, 1000),
		control.Choice("polarity", "Up: the first swing is positive. Down: negative. Read at the trigger. A cord moves it by as many words.", "up", "down"),
		control.Level("level", "Level of the click, -96 dB (off) to +24 dB. A cord moves it as a factor (x: depth 1 multiplies by the voltage) or in dB.", 24, 0),
	},
}
