// Package recording is the kind of module that plays a recorded sound.
//
//	trigger -> place in the recording -> value between samples -> left, right
//
// Held by tests: unchanged at speed 1, the exact pitch at any other, nothing
// folded, a repeat of exact period.
package recording

import (
	"lampblack/patch"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// Kind is the catalogue entry.
func Kind() *module.Kind { return &module.Kind{Kind: words, New: newSound} }

var words = patch.Kind{
	Name: "recording", Title: "recording", Family: patch.Sources, Symbol: "recording", Version: 1,
	Help: `Plays a recorded sound from a file: a voice, a door, a take of this notebook.

Each trigger starts it anew at start. It plays once to its end, or again and
again from start to end. Speed moves the pitch with it, as a tape does: 2 is an
octave up and half as long, 0.5 an octave down and twice as long. Join pitch
of a memory to speed with a depth of +1 oct and the recording plays a tune:

    speed = written speed x 2^pitch

Between the samples of the recording the value is worked out by band-limited
interpolation (32 points, Kaiser window). At speed 1 every sample comes out
unchanged. Above speed 1 what would pass half the sample rate is filtered
away; below it nothing is added above what the recording holds.

Start, end and the seam of a repeat are cuts, without a fade, and a trigger
cuts off what was still playing: choose start where the sound is quiet, or put
an amplifier and an envelope behind.

Without a file the module is silent. Source: Smith and Gossett, A flexible
sampling-rate conversion method, ICASSP 1984.`,
	Inputs: []patch.Input{
		{Name: "trigger", Open: patch.OpenTrigger, Help: "Rising through 0.5 starts the recording at start. Left open it follows the note being played."},
	},
	Outputs: []patch.Output{
		{Name: "left", Help: "Left channel; of a mono recording its only one. Full scale is +-1."},
		{Name: "right", Help: "Right channel; of a mono recording the same as left. Full scale is +-1."},
	},
	Controls: []patch.Control{
		{Name: "speed", Help: "How fast it plays, 0.05 to 20 times; pitch moves with it. A cord moves it in octaves.",
			Scales: []patch.Scale{{Min: 0.05, Max: 20, Default: 1, Taper: patch.Logarithmic, Moves: []patch.Move{patch.Octaves}}}},
		control.Percent("start", "Where a trigger or a repeat starts, 0 to 100 % of the recording. A cord moves it in percent points; it is read when the recording starts.", 0, 100, 0),
		control.Choice("loop", "Once: to the end, then silence. Repeat: from the end back to start, until the next trigger.", "once", "repeat"),
		control.Level("level", "Level of the recording, -96 dB (off) to +24 dB; 0 dB plays it unchanged. A cord moves it as a factor (x: depth 1 multiplies by the voltage) or in dB.", 24, 0),
	},
}
