// Package chorus is the kind of module that mixes a sound with itself, a little
// late and wavering.
//
//	in -> + -> line -> voices, each at its own wavering time -> mean -> out
//	      ^----------- x feedback <-----------------------------'
//
// Held by tests against the theory of combs and of moving heads.
package chorus

import (
	"lampblack/patch"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// Kind is the catalogue entry.
func Kind() *module.Kind { return &module.Kind{Kind: words, New: newSound} }

// Voices is the largest number of voices on each side.
const Voices = 6

// Longest is the longest delay in s; the longest depth is half of it.
const Longest = 0.04

var words = patch.Kind{
	Name: "chorus", Title: "chorus and flanger", Family: patch.Space, Symbol: "chorus", Version: 1,
	Help: `Mixes a sound with copies of itself that are a little late, by a time that
wavers.

    time = delay + depth x sin(2 pi (rate x t + phase))

Late by more than some 10 ms, and by several voices, a copy sounds like a
second player: its pitch wavers by the ratio 1 - dT/dt, at most 2 pi rate
depth up and down. A depth of 1 ms at 0.5 Hz is 5.4 cents, at 5 Hz 54 cents:
chorus.

Late by less than some 5 ms the copy is not heard as such. At a mix of 50 %
it cuts notches at (k + 1/2)/time and leaves peaks of 6.02 dB at k/time:
with 1 ms, notches at 500, 1500, 2500 Hz. As the time wavers the whole comb
sweeps through the spectrum: flanging. Feedback sharpens the peaks, to 1/(1
- feedback); below 0 it makes peaks where notches were, at (k + 1/2)/time.
With a depth of 0 and a cord into delay you move the comb yourself: +1 oct
halves its frequencies.

The depth is never larger than the delay. Voices share a cycle evenly; the
right side runs behind the left by the phase. Several voices are as loud as
one, as powers: standing together (depth 0) n of them would be 10 log n dB
louder. The head moves no faster than an octave up and down, and its speed
never jumps.

Delays of a whole number of samples are exact; between, the line is read by
a windowed sinc (flat to 18 kHz at 48 kHz; nearer than 0.3 ms it loses the
highest octave little by little).

Sources: theory of comb filters; Doppler, ratio = 1 - dT/dt.`,
	Inputs: []patch.Input{
		{Name: "left", Help: "The sound, or its left side."},
		{Name: "right", Open: patch.OpenLeft, Help: "The right side. Left open it is the same as the left."},
	},
	Outputs: []patch.Output{
		{Name: "left", Help: "The left side, plain and late, by mix."},
		{Name: "right", Help: "The right side, plain and late, by mix."},
	},
	Controls: []patch.Control{
		{Name: "delay", Help: "The middle of the wavering time, 0.1 to 40 ms. A cord moves it in octaves (+1 oct doubles it) or in seconds.",
			Scales: []patch.Scale{{Unit: "s", Min: 0.0001, Max: Longest, Default: 0.007, Taper: patch.Logarithmic,
				Moves: []patch.Move{patch.Octaves, {Unit: "s", Kind: patch.MoveLinear, Max: Longest}}}}},
		{Name: "depth", Help: "How far the time wavers to either side of the delay, 0 to 20 ms, never further than the delay. A cord moves it in seconds.",
			Scales: []patch.Scale{{Unit: "s", Max: Longest / 2, Default: 0.002,
				Moves: []patch.Move{{Unit: "s", Kind: patch.MoveLinear, Max: Longest / 2}}}}},
		control.Frequency("rate", "How often it wavers, 0.01 to 20 Hz. A cord moves it in octaves or in Hz.", 0.01, 20, 0.5),
		{Name: "phase", Help: "How far the right side is behind the left, 0 to 360 degrees of a cycle. 0 is mono, 180 opposite. A cord moves it in degrees.",
			Scales: []patch.Scale{{Unit: "deg", Max: 360, Default: 90, Moves: []patch.Move{{Unit: "deg", Kind: patch.MoveLinear, Max: 360}}}}},
		control.Percent("feedback", "How much of the late sound goes in again, -95 to +95 %; below 0 it is turned over. A cord moves it in percent points.", -95, 95, 0),
		control.Count("voices", "Copies on each side, 1 to 6, spread evenly over the cycle. Changing it while it sounds makes a click. A cord moves it by as many.", 1, Voices, 1),
		control.Percent("mix", "Plain and late sound: 0 % the plain one alone, 50 % both whole, 100 % the late one alone. Up to 50 % the plain sound stays as it is. A cord moves it in percent points.", 0, 100, 50),
	},
}
