// Package plucked is the kind of module that sounds like a plucked string.
//
//	trigger -> burst of noise -> where it is plucked -> loop in tune -> out
//
// Held by tests: pitch within 0.01 cent, decay within 0.1 %, the harmonics that
// the place of the pluck leaves out.
package plucked

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
	Name: "string", Title: "string, plucked", Family: patch.Sources, Symbol: "string", Version: 1,
	Help: `A string: a wave runs along it and back, once in 1/frequency, and loses a
little each time. A trigger plucks it: a burst of noise, one round long, is
put on the string; what is left after some rounds is a tone.

    decay     T60: the time in which the fundamental falls by 60 dB. It is as
              written at any pitch and damping.
    damping   how many times sooner the highest harmonics die: 1 rings like
              glass, 5 like steel, 50 like nylon, 300 like a damped string. It
              grows from the fundamental up, about as the square of frequency.
    position  where the string is plucked, as a share of its length. Harmonic n
              is missing where n x position is whole: at 50 % the even ones, at
              20 % every fifth; near the end it sounds thin.
    hardness  corner of the burst, 6 dB/oct above: a fingertip 1 kHz, a nail
              5 kHz, a wire 20 kHz. The power stays; the colour changes.
    touch     how much of the vibration the finger takes away as it plucks
              again: at 0 % plucks pile up; at 100 % only what passes while it
              comes and goes (an eighth of a round, 1 ms at most) is left.

The string may also be excited from outside: what comes in at in is put on it
at the same position. A click, a recorded knock or a noise behind an envelope
strikes or bows it.

To play it, join pitch of a memory to frequency with +1 oct and write 440 Hz.
The fundamental is in tune within 0.01 cent from 20 Hz to 12 kHz: an all-pass
makes up what is left of a sample, set so that the phase of a whole round is
right there. Pitch, decay and damping move in segments of 16 samples (0.33 ms
at 48 kHz), faded from one to the next: a glide or a vibrato does not click.

The noise is drawn from the seed of the module and the number of the pluck: a
render always sounds the same. With plucks alike every pluck is the first one;
with plucks different each has its own noise, as with a real hand.

Sources: Karplus and Strong, Digital synthesis of plucked-string and drum
timbres, and Jaffe and Smith, Extensions of the Karplus-Strong plucked-string
algorithm, both Computer Music Journal 7(2), 1983; Fletcher and Rossing, The
Physics of Musical Instruments, ch. 2 (place of the pluck).`,
	Inputs: []patch.Input{
		{Name: "trigger", Open: patch.OpenTrigger, Help: "Rising through 0.5 plucks the string. Left open it follows the note being played, and so does the velocity."},
		{Name: "in", Help: "What strikes or bows the string instead, or as well. It is held within +-1000."},
	},
	Outputs: []patch.Output{{Name: "out", Help: "The string. At level 0 dB a pluck starts at about -8 dB rms."}},
	Controls: []patch.Control{
		control.Frequency("frequency", "The fundamental, 20 Hz to 12 kHz; at most a third of the sample rate. A cord moves it in octaves or in Hz.", 20, 12000, 220),
		{Name: "decay", Help: "T60 of the fundamental, 10 ms to 60 s. A cord moves it in octaves: +1 oct doubles the time.",
			Scales: []patch.Scale{{Unit: "s", Min: 0.01, Max: 60, Default: 4, Taper: patch.Logarithmic, Moves: []patch.Move{patch.Octaves}}}},
		{Name: "damping", Help: "How many times sooner the highest harmonics die than the fundamental, 1 (none) to 1000. A cord moves it in octaves.",
			Scales: []patch.Scale{{Min: 1, Max: 1000, Default: 20, Taper: patch.Logarithmic, Moves: []patch.Move{patch.Octaves}}}},
		control.Percent("position", "Where it is plucked, from one end, 2 to 50 % of its length; not nearer than half a sample's run. A cord moves it in percent points.", 2, 50, 20),
		control.Frequency("hardness", "Corner of the burst (one pole, 3.01 dB down), 100 Hz to 20 kHz; at most 0.49 of the sample rate. A cord moves it in octaves or in Hz.", 100, 20000, 6000),
		control.Percent("touch", "How much of the vibration a new pluck takes away, 0 to 100 %. A cord moves it in percent points; it counts while the string is being plucked.", 0, 100, 80),
		control.Percent("velocity", "How much the velocity of the note counts for the level of a pluck, 0 % (not at all) to 100 % (in proportion). Only while trigger is left open. A cord moves it in percent points.", 0, 100, 100),
		control.Level("level", "Level of the next pluck, -96 dB (off) to +24 dB; what rings already is left as it is. A cord moves it as a factor (x: depth 1 multiplies by the voltage) or in dB.", 24, 0),
		control.Choice("plucks", "Whether the noise of every pluck is another one (different) or always the first one's (alike). A cord moves it by as many words.", "different", "alike"),
	},
}
