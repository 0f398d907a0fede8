// Package memory is the kind of module that gives out the note being played.
//
// The notes come from the keys or from the memory of package patch/memory; the
// engine puts them into Block.Played, sample by sample, and this module copies
// them out, so that cords can start at them.
package memory

import (
	"lampblack/patch"
	"lampblack/patch/module"
)

// Kind is the catalogue entry.
func Kind() *module.Kind { return &module.Kind{Kind: words, New: newSound, Bounded: true} }

var words = patch.Kind{
	Name: "memory", Title: "memory", Family: patch.Playing, Symbol: "memory", Version: 1,
	Help: `Gives out what the keys and the memory play, as four voltages.

Pitch is in octaves: 0 is A4 = 440 Hz (ISO 16), +1 is one octave up, 1/12 is
one semitone. A cord from pitch into a frequency with a depth of +1 oct plays
equal temperament around the frequency that is written there:

    f = written frequency x 2^pitch

With 440 Hz written, the key A4 sounds A4. A depth of 0 would leave the
frequency still, +0.5 oct would halve every interval, -1 oct would turn the
tune upside down.

When no note is held, pitch and velocity stay where the last note left them,
so that a release keeps its pitch. While the memory is empty, a render holds
the gate at pitch 0 from the first sample on.`,
	Outputs: []patch.Output{
		{Name: "pitch", Control: true, Help: "Pitch of the note in octaves, 0 = A4 = 440 Hz; MIDI note n stands at (n - 69)/12."},
		{Name: "gate", Control: true, Help: "1 while a note is held, else 0."},
		{Name: "trigger", Control: true, Help: "1 for the one sample on which a note starts, else 0."},
		{Name: "velocity", Control: true, Help: "How hard the note was struck, 0 to 1."},
	},
}

type sound struct{}

func newSound(module.Setup) module.Sound { return sound{} }

// Block copies the note being played.
func (sound) Block(b *module.Block) {
	copy(b.Out[0][:b.N], b.Played.Pitch)
	copy(b.Out[1][:b.N], b.Played.Gate)
	copy(b.Out[2][:b.N], b.Played.Trigger)
	copy(b.Out[3][:b.N], b.Played.Velocity)
}
