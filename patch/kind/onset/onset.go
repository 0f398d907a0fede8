// Package onset is the kind of module that says when something begins: the
// onset detector.
//
//	in -> four bands -> power of the moment over that of the last while -> trigger
//
// Held by tests on clicks, notes and bursts of noise whose beginnings are known.
package onset

import (
	"lampblack/patch"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// Kind is the catalogue entry.
func Kind() *module.Kind { return &module.Kind{Kind: words, New: newSound, Bounded: true} }

var words = patch.Kind{
	Name: "onset", Title: "onset detector", Family: patch.Followers, Symbol: "onset", Version: 2,
	Help: `Says when something begins: a note, a knock, a drip, a syllable. Join
trigger to an envelope, or to a memory's step, and a recorded noise plays
the patch.

The sound is cut into four bands (edges 300, 1200 and 4800 Hz). In each, the
power of the moment (averaged over 10, 5, 3, 2 ms from low to high) is held
against that of the last while (60 ms up; 12 ms down, after a wait of 25 ms).
A beginning is where the moment lies rise dB over the while in any band, or in
all of them together twice as much (the sum of the dB by which bands rise). So
a loud hum below does not hide a click above, and a sound that merely is loud
begins once, a tone of 50 Hz and more too: its pulses come within the wait.

    rise      smaller finds softer beginnings, and more that are none: in a
              minute of pink noise some 25 at 6.5 dB, 2 at 8 dB, none at 10 dB
    floor     quieter is not listened to
    dead time nothing begins again so soon: what still rises then belongs to the
              beginning that was found

A beginning out of silence is found within a millisecond. A note that changes
its pitch without a new attack is none here; take a pitch follower for that.

Source: power against its own past in bands, after Bello and others, A
tutorial on onset detection in music signals, IEEE Trans. SAP 13(5), 2005
(from memory).`,
	Inputs: []patch.Input{{Name: "in", Help: "The sound whose beginnings are wanted."}},
	Outputs: []patch.Output{
		{Name: "trigger", Control: true, Help: "1 at the sample on which a beginning is found, else 0."},
		{Name: "rising", Control: true, Help: "How far the moment lies over the while, by the same rule: 0 (not at all) to 1 (24 dB or more). It shows how to set the control."},
	},
	Controls: []patch.Control{
		{Name: "rise", Help: "How far the power of the moment must lie over that of the last while, 3 dB to 24 dB. A cord moves it in dB.",
			Scales: []patch.Scale{{Unit: "dB", Min: 3, Max: 24, Default: 6.5, Moves: []patch.Move{patch.Decibels}}}},
		{Name: "floor", Help: "Level (rms, of a band) below which nothing begins, -96 dB to 0 dB. A cord moves it in dB or as a factor.",
			Scales: []patch.Scale{{Unit: "dB", Min: -96, Max: 0, Default: -50, Moves: []patch.Move{patch.Decibels, patch.Factor}}}},
		control.Time("dead time", "How long after a beginning no other is looked for, 0.1 ms to 60 s. A cord moves it in octaves.", 0.05),
		control.Choice("listens to", "Which bands count: everything (all four), lows (those below 1.2 kHz) or highs (those above). A cord moves it by as many words.", "everything", "lows", "highs"),
	},
}
