// Package gate is the kind of module that makes a gate out of a voice: it opens
// while the voice is loud enough.
//
//	in -> rms -> over threshold? of the wanted kind? -> hold -> gate, trigger
//
// Held by tests against first-order theory: when it opens and when it shuts.
package gate

import (
	"lampblack/patch"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// Kind is the catalogue entry.
func Kind() *module.Kind { return &module.Kind{Kind: words, New: newSound, Bounded: true} }

var words = patch.Kind{
	Name: "gate", Title: "voice gate", Family: patch.Followers, Symbol: "gate", Version: 1,
	Help: `Makes a gate out of a voice: 1 while it sounds, 0 while it does not. Join
gate to an envelope and every word plays a note; join it to an amplifier's
level and what lies between the words is silent.

The level (rms over response) opens it at threshold. It closes when the level
has been more than hysteresis below threshold for as long as hold: a level
that wavers about the threshold does not make it flutter, and short gaps in
a word do not cut it. With a response of t seconds a sound that starts D dB
over the threshold opens it after -t ln(1 - 10^(-D/10)): with 5 ms and 6 dB
1.4 ms, with 20 dB 0.05 ms.

    opens on  any sound
              voiced: vowels and all that hums, no hiss
              hiss: s, f, whispering, breath

A sound hisses while it is larger above 2.5 kHz than below.

Source: first-order circuit theory; Fant, Acoustic Theory of Speech
Production, 1960 (spectra of voiced sounds and of fricatives).`,
	Inputs: []patch.Input{{Name: "in", Help: "The voice or other sound."}},
	Outputs: []patch.Output{
		{Name: "gate", Control: true, Help: "1 while it is open, else 0."},
		{Name: "trigger", Control: true, Help: "1 at the sample on which it opens, else 0."},
	},
	Controls: []patch.Control{
		control.Choice("opens on", "What opens it: any sound, voiced sound, or hiss. A cord moves it by as many words.", "any sound", "voiced", "hiss"),
		{Name: "threshold", Help: "Level (rms) at which it opens, -96 dB to 0 dB re full scale. A cord moves it in dB or as a factor.",
			Scales: []patch.Scale{{Unit: "dB", Min: -96, Max: 0, Default: -36, Moves: []patch.Move{patch.Decibels, patch.Factor}}}},
		{Name: "hysteresis", Help: "How far below the threshold it may fall before it closes, 0 dB to 24 dB. A cord moves it in dB.",
			Scales: []patch.Scale{{Unit: "dB", Min: 0, Max: 24, Default: 6, Moves: []patch.Move{patch.Decibels}}}},
		control.Time("hold", "How long the level must have been that low, 0.1 ms to 60 s. A cord moves it in octaves.", 0.1),
		control.Time("response", "Time constant over which the power is averaged, 0.1 ms to 60 s. A cord moves it in octaves.", 0.005),
	},
}
