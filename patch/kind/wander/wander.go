// Package wander is the kind of module that wanders: a smoothed random voltage.
//
//	seed, number of the point -> points -> a curve through or near them -> out
//
// Held by tests against its spectrum and variance, worked out from the curves.
package wander

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
	Name: "wander", Title: "smoothed random", Family: patch.Modulators, Symbol: "random", Version: 1,
	Help: `A voltage that wanders between -1 and +1 and never comes the same way again.

Rate says how many new points it heads for in a second; each is drawn by even
chance over -1 to +1. The curve between them:

    straight  lines from point to point: corners, but no jumps
    rounded   through every point, level there: it lingers, then swings over
    spline    near the points, in one sweep: its slope and the change of its
              slope are smooth too (the cubic B-spline of the points)

Slow, a little of it into a pitch (0.005 oct) is an old oscillator that
drifts; into a cutoff it is wind; into a level, a candle; of some 5 Hz with a
sine added, a vibrato that is not a machine's.

The points are weighted with weights that sum to 1, so out never passes +-1.
Its mean is 0. rms: straight 0.471, rounded 0.498, spline 0.400 (1/3 of
variance, times 2/3, 26/35 and 151/315). Its power in a Hz at frequency f,
with r the rate, is 2/(3 r) H(f/r)^2: H(x) = sinc(x)^2 for straight, sinc(x)^4
for spline, sinc(x) = sin(pi x)/(pi x). It is 3.01 dB down at 0.319 r
(straight), 0.357 r (rounded), 0.228 r (spline), and far down above r.

The points depend on nothing but the patch's seed and their number: every run
wanders the same way, and restart goes back to point 0.

Source: Schoenberg, Quarterly of Applied Mathematics 4 (1946), for the
B-splines and their spectra; power of a random series through a filter, any
textbook of stochastic processes.`,
	Inputs: []patch.Input{
		{Name: "restart", Help: "Rising through 0.5 goes back to point 0: the same way again. Left open it wanders on."},
	},
	Outputs: []patch.Output{{Name: "out", Control: true, Help: "The wandering voltage, -1 to +1."}},
	Controls: []patch.Control{
		control.Frequency("rate", "New points a second, 0.001 Hz (one in 17 minutes) to 100 Hz. A cord moves it in octaves or in Hz.", 0.001, 100, 1),
		control.Choice("curve", "How it goes from point to point: straight, rounded or spline, from the most to the least angular. A cord moves it by as many words.", "straight", "rounded", "spline"),
	},
}
