// Package allpass is the kind of module that lets every frequency through at the
// same level and turns its phase: a chain of all-pass stages, with feedback, and
// mixed with what went in.
//
//	in -> + -> stage -> stage -> ... -> mix -> out
//	      ^- <- feedback <------------|
//
// Held by tests against the formulas of its gain and phase.
package allpass

import (
	"lampblack/patch"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// Kind is the catalogue entry.
func Kind() *module.Kind { return &module.Kind{Kind: words, New: newSound} }

// mostStages is how many stages there can be.
const mostStages = 12

var words = patch.Kind{
	Name: "allpass", Title: "all-pass, phaser", Family: patch.Filters, Symbol: "all-pass", Version: 1,
	Help: `Turns the phase and leaves every level alone; mixed with what went in, it cuts
notches. A stage of it delays, and by how much depends on the frequency. With
s = jf/centre the stages are

    first order   (1 - s)/(1 + s): turned by 0 degrees far below the centre,
                  by -90 at the centre, by -180 far above
    second order  (s^2 - s/Q + 1)/(s^2 + s/Q + 1): -180 degrees at the centre,
                  -360 far above; the higher Q, the narrower the turn

and a chain of n stages has A, the product of n. At a mix of 100 % and
without feedback that is all: noise sounds as before, a click becomes a
chirp, a struck sound is smeared.

Mixed with what went in, frequencies that were turned by -180 degrees (or
-540, -900 ...) cancel. With s = jf/centre the whole gain is

    (1 - mix + mix A)/(1 - feedback A).

At a mix of 50 % these are notches of perfect silence: n stages of the first
order make n/2 of them (rounded down), n of the second order make n. Four of
the first order have theirs at 0.414 and 2.414 times the centre (tan 22.5
and tan 67.5 degrees). Move the centre with a slow oscillator and they
travel: a phaser. Feedback sharpens what lies between the notches to peaks,
1/(1 - feedback) high: 50 % is 6 dB, 90 % 20 dB. Negative feedback sharpens
the notches instead, and all else comes out at 1/(1 + |feedback|).

Every stage is a rotation (normalised lattice), so a chain stores exactly what
went in less what came out: no movement of centre or Q, however fast, makes it
grow, and the loop of the feedback is solved without delay. Frequencies are
those of the bilinear transform: s is j tan(pi f/rate)/tan(pi centre/rate).

Sources: Gray and Markel, IEEE Trans. ASSP 23(3), 1975 (normalised lattice);
Regalia, Mitra and Vaidyanathan, Proc. IEEE 76(1), 1988; Audio EQ Cookbook,
W3C Note, 2021 (second order); Smith, Proc. ICMC 1984 (phasing).`,
	Inputs:  []patch.Input{{Name: "in", Help: "The signal to be turned. It is held within +-1000."}},
	Outputs: []patch.Output{{Name: "out", Help: "The mix of what went into the stages and what came out."}},
	Controls: []patch.Control{
		control.Frequency("centre", "The frequency around which the stages turn, 20 Hz to 20 kHz; at most 0.49 of the sample rate. A cord moves it in octaves or in Hz.", 20, 20000, 1000),
		{Name: "width", Help: "Of stages of the second order: how narrow the turn is, as Q = centre/width, 0.1 to 100. Stages of the first order have no width. A cord moves it in octaves.",
			Scales: []patch.Scale{{Unit: "Q", Min: 0.1, Max: 100, Default: 0.7071, Taper: patch.Logarithmic, Moves: []patch.Move{patch.Octaves}}}},
		control.Choice("order", "First order: 180 degrees a stage. Second order: 360 degrees a stage, as narrow as width says. A cord moves it by as many words.", "first", "second"),
		control.Count("stages", "How many stages follow one another, 1 to 12. Changing it while it sounds makes a click. A cord moves it by as many.", 1, mostStages, 4),
		control.Percent("feedback", "How much of what comes out of the last stage goes into the first again, -95 to +95 %. A cord moves it in percent points.", -95, 95, 0),
		control.Percent("mix", "How much of out has gone through the stages, 0 to 100 %. At 50 % there are notches, at 100 % only the turn is left (and the peaks of feedback). A cord moves it in percent points.", 0, 100, 50),
	},
}
