// Package delay is the kind of module that repeats a sound: an echo as of a
// loop of tape.
//
//	in -> + -> tape -> time -> tone of the repeats -> echo
//	      ^------- x feedback <-------'
//
// Held by tests against the theory of combs, of decay and of moving heads.
package delay

import (
	"lampblack/patch"
	"lampblack/patch/dsp/line"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// Kind is the catalogue entry.
func Kind() *module.Kind { return &module.Kind{Kind: words, New: newSound, Bounded: true} }

// Longest is the longest time, in s.
const Longest = 5

var words = patch.Kind{
	Name: "delay", Title: "delay", Family: patch.Space, Symbol: "delay", Version: 1,
	Help: `Repeats a sound after a time, again and again. It is a loop of tape whose
playing head sends what it hears back to the recording head.

Each repeat is feedback times as loud as the one before. It has died away by
60 dB after

    T60 = time x 3 / -log10(feedback)      0.3 s at 50 %: 2.99 s

At 100 % it never does, and above 100 % it grows until the tape is full: up to
half the ceiling a tape is exactly linear, then it bends, and nothing ever
passes the ceiling. With feedback below 0 every other repeat is turned over.

Short times are not heard as echoes but as colour. Mixed with the plain
sound at a gain g there are peaks at k/time and notches at (k + 1/2)/time,
1 + g and 1 - g loud; feedback g alone rings at k/time, 1/(1 - g) loud, a
string whose pitch is 1/time.

A time can change in two ways:

    glide       the head moves along the tape. While it does the pitch is
                1 - dT/dt times the old one: a time that grows by 10 ms in
                a second plays 1 % slower. The head moves so fast at most
                that the pitch goes an octave up or down.
    cross-fade  a second head stands at the new time, and in 30 ms the sound
                goes over from one to the other. The pitch stays. A time that
                never stands still is followed every 110 ms.

Every repeat passes low cut and high cut (6 dB an octave each, 3.01 dB down
at their frequency) once more: they darken and thin out as on tape. At its
last mark each of them is off; the last 4 kHz or 10 Hz of the ruler go over
to that.

Times of a whole number of samples are exact to the bit. Between samples the
tape is read by a windowed sinc of 32 points: flat within 0.0002 dB to 18 kHz
at 48 kHz. Nearer than 15 samples (0.3 ms) the sinc is shorter and loses the
highest octave little by little.

Sources: theory of comb filters; Doppler, ratio = 1 - dT/dt.`,
	Inputs: []patch.Input{{Name: "in", Help: "What is to be repeated."}},
	Outputs: []patch.Output{
		{Name: "out", Help: "The plain sound and the repeats, by mix."},
		{Name: "echo", Help: "The repeats alone, whatever the mix."},
	},
	Controls: []patch.Control{
		{Name: "time", Help: "From a sound to its repeat, 0.1 ms to 5 s, never less than a sample. A cord moves it in octaves (+1 oct doubles it) or in seconds.",
			Scales: []patch.Scale{{Unit: "s", Min: 0.0001, Max: Longest, Default: 0.35, Taper: patch.Logarithmic,
				Moves: []patch.Move{patch.Octaves, {Unit: "s", Kind: patch.MoveLinear, Max: Longest}}}}},
		control.Percent("feedback", "How much of each repeat is recorded again, -110 to +110 %. Below 0 it is turned over; above 100 % it grows until the tape is full. A cord moves it in percent points.", -110, 110, 40),
		control.Frequency("low cut", "What lies below it gets weaker with each repeat, 6 dB an octave, 10 Hz (off) to 2 kHz. A cord moves it in octaves or in Hz.", line.NoLowCut, 2000, line.NoLowCut),
		control.Frequency("high cut", "What lies above it gets weaker with each repeat, 6 dB an octave, 200 Hz to 20 kHz (off). A cord moves it in octaves or in Hz.", 200, line.NoHighCut, line.NoHighCut),
		{Name: "ceiling", Help: "The level that the tape can hold, -36 to +24 dB. From 6 dB below it on the sound is bent, as on a tape that is full; nothing gets louder. Low ceilings distort. A cord moves it in dB or as a factor.",
			Scales: []patch.Scale{{Unit: "dB", Min: -36, Max: 24, Default: 0, Moves: []patch.Move{patch.Decibels, patch.Factor}}}},
		control.Percent("mix", "Plain sound and repeats at the output: 0 % the plain sound alone, 50 % both whole, 100 % the repeats alone. Up to 50 % the plain sound stays as it is and the repeats come in at twice the mix. A cord moves it in percent points.", 0, 100, 25),
		control.Choice("change", "How a new time is reached: by a glide of the head, which moves the pitch, or by a cross-fade, which does not. A cord moves it by as many words.", "glide", "cross-fade"),
	},
}
