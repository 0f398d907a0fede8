// Package envelope is the kind of module that shapes a note over time.
//
//	gate -> attack -> decay -> sustain ... release -> 0
//
// Levels are 0 to 1, times in seconds. Every part is the charging curve of a
// resistor and a capacitor. Held by tests against first-order theory.
package envelope

import (
	"lampblack/patch"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// Kind is the catalogue entry.
func Kind() *module.Kind { return &module.Kind{Kind: words, New: newSound, Bounded: true} }

var words = patch.Kind{
	Name: "envelope", Title: "envelope", Family: patch.Envelopes, Symbol: "envelope", Version: 1,
	Help: `A voltage that rises when a note starts and falls when it ends.

Every part is an RC curve, as of a capacitor that charges through a resistor:
it goes 63.2 % of the way to its aim in one time constant, 86.5 % in two,
95.0 % in three, 98.2 % in four, 99.3 % in five.

    attack   aims at 1.582 and is cut off at 1: it gets there exactly when
             the written time is over (one time constant, since
             1.582 x 63.2 % = 1). It is slightly curved.
    decay    from 1 towards the sustain level; the written time is one time
             constant: 63.2 % of the way.
    sustain  where it stays while the gate is held.
    release  from wherever it is towards 0 when the gate ends; the written
             time is one time constant: 8.69 dB down. It is 60 dB down after
             6.9 times as long. A release of 2.4 s takes 16.6 s for that.

A new trigger starts the attack again from the level that has been reached,
without a jump. Retrigger may say otherwise: from zero, so that every note has
its whole attack (the level jumps down, which may click), or not while held,
so that notes that overlap are played in one envelope. A trigger without a
gate (a short knock from another module) runs the attack to its top and then
releases.

Source: first-order circuit theory, y = aim x (1 - e^(-t/tau)).`,
	Inputs: []patch.Input{
		{Name: "gate", Open: patch.OpenGate, Help: "Held while above 0.5. Left open it follows the note being played."},
		{Name: "trigger", Open: patch.OpenTrigger, Help: "Rising through 0.5 starts the attack again. Left open it follows the note being played."},
	},
	Outputs: []patch.Output{{Name: "out", Control: true, Help: "The envelope, 0 to 1."}},
	Controls: []patch.Control{
		control.Time("attack", "Time from 0 to the top (1), 0.1 ms to 60 s. Started higher up it arrives sooner. A cord moves it in octaves: +1 oct doubles the time.", 0.01),
		control.Time("decay", "Time constant of the fall from the top to the sustain level, 0.1 ms to 60 s: after it 63.2 % of the way is done. A cord moves it in octaves.", 0.2),
		control.Percent("sustain", "Level while the gate is held, 0 to 100 % of the top. A cord moves it in percent points; the envelope follows with the decay time.", 0, 100, 70),
		control.Time("release", "Time constant of the fall to 0 after the gate, 0.1 ms to 60 s: after it the level is 8.69 dB down, after 6.9 of them 60 dB. A cord moves it in octaves.", 0.3),
		control.Choice("retrigger", "What the start of another note does: the attack starts again from where it stands, or from zero, or (not while held) a trigger while the gate is already up changes nothing. A cord moves it by as many words.", "from where it stands", "from zero", "not while held"),
	},
}
