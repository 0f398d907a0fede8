// Package memory is the kind of module that gives out the notes being played.
//
//	Block.Played, one note a voice -> glide -> spread -> pitch; gate, trigger, velocity
//
// The notes come from the keys or from the memory of package patch/memory; the
// engine deals them out to the voices and puts them into Block.Played, sample by
// sample, and this module gives them out, so that cords can start at them.
//
// Held by tests: every note as it comes, to the bit, while nothing is asked for
// besides; the stated law of the glide; the stated cents of the spread.
package memory

import (
	"lampblack/patch"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// Kind is the catalogue entry.
func Kind() *module.Kind { return &module.Kind{Kind: words, New: newSound, Bounded: true} }

// Longest glide in seconds, and widest spread in octaves.
const (
	longestGlide = 10
	widestSpread = 1
)

var words = patch.Kind{
	Name: "memory", Title: "memory", Family: patch.Playing, Symbol: "memory", Version: 1,
	Help: `Gives out what the keys and the memory play, as voltages.

Pitch is in octaves: 0 is A4 = 440 Hz (ISO 16), +1 is one octave up, 1/12 is
one semitone. A cord from pitch into a frequency with a depth of +1 oct plays
equal temperament around the frequency that is written there:

    f = written frequency x 2^pitch

With 440 Hz written, the key A4 sounds A4. A depth of 0 would leave the
frequency still, +0.5 oct would halve every interval, -1 oct would turn the
tune upside down.

When no note is held, pitch and velocity stay where the last note left them,
so that a release keeps its pitch. While the memory is empty, a render holds
the gate at pitch 0 from the first sample on.

Voices. With more than one voice, all that a note changes is there once for
every voice: what is tuned, opened, shaped or struck by the note, and what
lies before that. Behind the last module that a note reaches, the voices are
added up and all goes on once: an echo or a room hears the sum of them, and
a slow oscillator that no note restarts sways for all alike. A new note
takes the free voice that was let go the longest ago, so that releases ring
on; if all keys are down, steal says which voice it takes over.

A voice that still sounds starts again from where it stands, as an envelope
does on a second trigger, and its velocity voltage goes to the new one
within 2 ms: it does not click. The same pitch struck again is a note like
any other, on a voice of its own. With one voice the newest note sounds, and
when it ends the one before is heard again, without a trigger.

Voices add up: two of equal level are 6 dB louder than one if they move in
step (3 dB if they do not), sixteen 24 dB (12 dB). Turn the output down by
as much. Each voice draws its own noise. If there are several memories in a
patch, the first one's voices, unison and steal count.

Unison gives a note several voices, all started on one sample, and spread
tunes them apart: voice i of n, from 0, is off by

    spread x (i / (n - 1) - 1/2)    in octaves; 1 cent is 1/1200

so two voices 6 cents apart at 440 Hz beat 1.5 times a second. Side tells
them apart: -1 for the lowest to +1 for the highest, 0 for a note of one
voice; into a place from left to right it spreads them over the stage.

Glide is a straight line in octaves from the pitch of the note that was
started before to the new one, in the written time whatever the interval:
after t of T seconds the pitch is

    from + (to - from) t / T

A note that comes on the way goes on from where that voice stands. The first
note, and a glide of 0, are there at once.

Sources: ISO 16:1975 (440 Hz); MIDI 1.0 (numbers of notes).`,
	Outputs: []patch.Output{
		{Name: "pitch", Control: true, Help: "Pitch of the note in octaves, 0 = A4 = 440 Hz; MIDI note n stands at (n - 69)/12. Glide and spread are in it."},
		{Name: "gate", Control: true, Help: "1 while a note is held, else 0."},
		{Name: "trigger", Control: true, Help: "1 for the one sample on which a note starts, else 0."},
		{Name: "velocity", Control: true, Help: "How hard the note was struck, 0 to 1. Of several voices one that has had a note before goes there within 2 ms."},
		{Name: "side", Control: true, Help: "Where this voice stands among the voices of its note, from -1 (tuned lowest) to +1; 0 for the only one."},
	},
	Controls: []patch.Control{
		fixed(control.Count("voices", "How many voices the patch has, 1 to 16: that many notes sound at once, divided by unison and rounded down. No cord moves it.", 1, 16, 1)),
		fixed(control.Choice("steal", "Which voice a note takes over while every voice has a key down: the oldest (started longest ago), the softest (struck most softly), the lowest or the highest in pitch (of equals the oldest), or none: then the new note is not heard. No cord moves it.",
			"oldest", "softest", "lowest", "highest", "none")),
		fixed(control.Count("unison", "How many voices every note has, 1 to 16, at most as many as there are. No cord moves it.", 1, 16, 1)),
		{Name: "spread", Help: "How far apart in pitch the voices of one note are, from the lowest to the highest, 0 to 1 octave; 10 cents are a slow shimmer, 30 cents a wide one. Without unison it does nothing. A cord moves it in octaves.",
			Scales: []patch.Scale{{Unit: "oct", Max: widestSpread, Moves: []patch.Move{{Unit: "oct", Kind: patch.MoveLinear, Max: widestSpread}}}}},
		{Name: "glide", Help: "Time from one note's pitch to the next one's, 0 (at once) to 10 s, the same for every interval. Moved on the way, it changes the pace from there. A cord moves it in seconds.",
			Scales: []patch.Scale{{Unit: "s", Max: longestGlide, Moves: []patch.Move{{Unit: "s", Kind: patch.MoveLinear, Max: longestGlide}}}}},
	},
}

// fixed makes c one that is settled when the patch is compiled.
func fixed(c patch.Control) patch.Control {
	c.Fixed = true
	c.Scales[0].Moves = nil
	return c
}
