// Package hold is the kind of module that samples a voltage and holds it.
//
//	in, clock -> the value at the clock's edge, until the next
//
// Held by tests to the exact sample, and to the statistics of even chance.
package hold

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
	Name: "hold", Title: "sample and hold", Family: patch.Modulators, Symbol: "hold", Version: 1,
	Help: `Takes the value of a voltage at every beat of a clock, and keeps it until the
next.

With nothing joined to in it samples noise: every beat gives another random
step, even over -1 to +1. Into a pitch with a depth of 1 oct that is two
octaves of chance; a quantiser behind it picks the notes of a scale.

    in joined       the steps of that voltage: a slow saw becomes stairs, a
                    sine that is a little out of step with the clock becomes a
                    pattern that repeats or slowly turns
    clock joined    a beat for every rise through 0.5; the rate is not used
    tracks          while the clock is up, out follows in; it holds while the
                    clock is down. Width says for how much of its beat the own
                    clock is up.

The own clock beats on the first sample and then 1/rate later, every beat on
the first sample that is not before its time; the beats do not drift.
Sampled above twice its highest frequency (the sampling theorem) a tone is
kept; below, it folds: f comes out as |f - k x rate| for every whole k, and
the steps dull it by sin(x)/x, x = pi f / rate (3.92 dB at half the rate).

The noise has a rms of 0.577 (1/sqrt 3). It is drawn from the patch's seed and
the number of the sample: every run gives the same steps.

Source: Shannon, Communication in the presence of noise, Proc. IRE 37(1),
1949.`,
	Inputs: []patch.Input{
		{Name: "in", Help: "The voltage that is sampled. Left open, noise, even over -1 to +1."},
		{Name: "clock", Help: "Each rise through 0.5 takes a sample; for tracks it is up while above 0.5. Left open, the own clock beats at rate."},
	},
	Outputs: []patch.Output{
		{Name: "out", Control: true, Help: "The value held."},
		{Name: "random", Control: true, Help: "A random step at every beat, even over -1 to +1, whatever is joined to in."},
		{Name: "trigger", Control: true, Help: "1 for the one sample of every beat, else 0."},
	},
	Controls: []patch.Control{
		control.Frequency("rate", "Beats a second of the own clock, 0.01 Hz (one in 100 s) to 20 kHz; above the sample rate every sample is taken. Not used when something is joined to clock. A cord moves it in octaves or in Hz.", 0.01, 20000, 4),
		control.Choice("mode", "Holds: one sample at every beat. Tracks: follows while the clock is up, holds while it is down. A cord moves it by as many words.", "holds", "tracks"),
		control.Percent("width", "For how much of every beat the own clock is up, 1 to 99 %; heard when it tracks. A cord moves it in percent points.", 1, 99, 50),
	},
}
