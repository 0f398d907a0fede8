// Package ahd is the kind of module that answers a trigger: it rises, holds and
// falls by itself, however long the note.
//
//	trigger -> attack -> hold -> decay -> 0
//
// Held by tests against first-order theory, to the sample.
package ahd

import (
	"lampblack/patch"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// Kind is the catalogue entry.
func Kind() *module.Kind { return &module.Kind{Kind: words, New: newSound, Bounded: true} }

var words = patch.Kind{
	Name: "ahd", Title: "attack-hold-decay envelope", Family: patch.Envelopes, Symbol: "envelope", Version: 1,
	Help: `A voltage that rises, stays at the top, and falls, all by itself.

It needs a trigger, not a gate: drips, knocks, footsteps, whatever is over in
a stated time however long the key is held. The start of a note, a beat of a
sample and hold, or a comparator sets it off.

    attack   from 0 to the top (1) in the written time
    hold     at the top for the written time
    decay    from the top towards 0

Exponential is the RC curve of the envelope module: the attack aims at 1.582
and is cut off at 1 when the written time is over; the decay's written time is
one time constant, 8.69 dB down (a fall by 60 dB takes 6.9 of them). Linear
goes evenly, and reaches 0 exactly when the decay's written time is over: of a
level, an even fall sounds as if it stayed long and ended suddenly.

The sample of the trigger is time 0 of the attack and still has the old level.
A time that changes on the way holds from there on: attack and decay change
their speed, and hold ends when the time since the top is as long as it says.

The gate output is up while it rises and holds: a pulse of attack + hold.

Source: first-order circuit theory, y = aim x (1 - e^(-t/tau)).`,
	Inputs: []patch.Input{
		{Name: "trigger", Open: patch.OpenTrigger, Help: "Rising through 0.5 sets it off. Left open it follows the note being played."},
	},
	Outputs: []patch.Output{
		{Name: "out", Control: true, Help: "The envelope, 0 to 1."},
		{Name: "gate", Control: true, Help: "1 while it rises and holds, else 0."},
	},
	Controls: []patch.Control{
		control.Time("attack", "Time from 0 to the top (1), 0.1 ms to 60 s. Started higher up it arrives sooner. A cord moves it in octaves: +1 oct doubles the time.", 0.002),
		{Name: "hold", Help: "Time at the top, 0 to 60 s. A cord moves it in octaves or in seconds.",
			Scales: []patch.Scale{{Unit: "s", Max: 60, Default: 0.05, Moves: []patch.Move{patch.Octaves, {Unit: "s", Kind: patch.MoveLinear, Max: 60}}}}},
		control.Time("decay", "Fall from the top, 0.1 ms to 60 s: exponential, the time constant; linear, the time to 0. A cord moves it in octaves.", 0.3),
		control.Choice("curve", "Exponential (RC curves) or linear (even). A cord moves it by as many words.", "exponential", "linear"),
		control.Choice("retrigger", "What a trigger does before it is over: the attack starts again from where it stands, or from zero, or (not while up) it changes nothing while it rises and holds. A cord moves it by as many words.", "from where it stands", "from zero", "not while up"),
	},
}
