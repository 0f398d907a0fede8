// Package reverberator is the kind of module that puts a sound into a room.
//
//	in -> predelay -> diffusion -> + -> 16 lines ----------> out
//	                               ^-- matrix <- absorption <-'
//
// Held by tests: decay by backward integration (Schroeder), in octave bands too.
package reverberator

import (
	"lampblack/patch"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// Kind is the catalogue entry.
func Kind() *module.Kind { return &module.Kind{Kind: words, New: newSound} }

const (
	longestSize     = 0.1   // s
	longestPredelay = 0.5   // s
	longestSway     = 0.002 // s
)

var words = patch.Kind{
	Name: "reverberator", Title: "reverberator", Family: patch.Space, Symbol: "reverberator", Version: 1,
	Help: `Puts a sound into a room: thousands of echoes, ever denser, that die away
together.

Decay is the time in which the sound falls by 60 dB (T60): a living room has
0.4 s, a concert hall 2 s, a stone church 6 s and more. Real walls and air
swallow high sounds first, so decay at high frequencies is a share of it:
high decay, from high corner on. Low decay does the same below low corner;
over 100 % it booms. With t = tan(pi f/rate), and t0 that of a corner, a
frequency f decays by

    1/T(f) = 1/T + (1/Thigh - 1/T) t^2/(t0^2 + t^2)
                 + (1/Tlow - 1/T) t0^2/(t0^2 + t^2)

(each with its own corner): at a corner half of the difference is there.
That holds within 3 % as long as one pass through the room, size seconds,
takes less than some 6 dB more at high than at middle frequencies.

Size is the mean time between two reflections: 10 ms is a way of 3.4 m, a
small room, 50 ms a hall of 17 m. A small size with a long decay is a pipe
or a plate; a large one with a short decay gives single echoes. When it
changes, the old and the new room fade over in 50 ms, without any pitch
moving; while a cord keeps moving it, decay is shorter.

Predelay keeps the room silent for a while after the sound: it holds speech
clear and tells how far off the walls are. Modulation lets four of the lines
sway by up to that time, at 0.31 to 0.73 Hz, which blurs ringing single
tones; at 0 nothing moves, and the decay is exact.

A steady noise is as loud in the room as outside it, at any decay; a short
sound therefore gets softer and longer as decay grows. Each side goes into 8
of 16 lines, of lengths 0.55 to 1.64 times size, that feed each other
through a Hadamard matrix, which keeps all energy. What dies away below -300
dB becomes exact silence.

Sources: Jot and Chaigne, Digital delay networks for designing artificial
reverberators, 90th AES convention, 1991 (absorption by line); Schroeder,
Natural sounding artificial reverberation, JAES 10(3), 1962 (all-pass
diffusion).`,
	Inputs: []patch.Input{
		{Name: "left", Help: "The sound, or its left side."},
		{Name: "right", Open: patch.OpenLeft, Help: "The right side. Left open it is the same as the left."},
	},
	Outputs: []patch.Output{
		{Name: "left", Help: "The left side, plain and from the room, by mix."},
		{Name: "right", Help: "The right side, plain and from the room, by mix."},
	},
	Controls: []patch.Control{
		time("decay", "T60 at middle frequencies, 0.1 to 60 s. A cord moves it in octaves: +1 oct doubles it.", 0.1, 60, 1.8),
		control.Percent("high decay", "T60 at high frequencies, 5 to 100 % of decay. A cord moves it in percent points.", 5, 100, 50),
		control.Frequency("high corner", "Where half of the way from decay to high decay is done, 500 Hz to 16 kHz. A cord moves it in octaves or in Hz.", 500, 16000, 4000),
		control.Percent("low decay", "T60 at low frequencies, 25 to 200 % of decay. A cord moves it in percent points.", 25, 200, 100),
		control.Frequency("low corner", "Where half of the way from decay to low decay is done, 50 Hz to 1 kHz. A cord moves it in octaves or in Hz.", 50, 1000, 200),
		time("size", "Mean time between two reflections, 2 to 100 ms. A cord moves it in octaves.", 0.002, longestSize, 0.03),
		short("predelay", "Time before the room is heard, 0 to 0.5 s, in whole samples. A cord moves it in seconds; the change fades in 50 ms.", longestPredelay, 0.01),
		short("modulation", "How far four lines sway, 0 to 2 ms. A cord moves it in seconds.", longestSway, 0),
		control.Percent("mix", "Plain sound and room: 0 % the plain sound alone, 50 % both whole, 100 % the room alone. Up to 50 % the plain sound stays as it is. A cord moves it in percent points.", 0, 100, 20),
	},
}

func time(name, help string, least, most, start float64) patch.Control {
	return patch.Control{Name: name, Help: help, Scales: []patch.Scale{{
		Unit: "s", Min: least, Max: most, Default: start, Taper: patch.Logarithmic, Moves: []patch.Move{patch.Octaves},
	}}}
}

func short(name, help string, most, start float64) patch.Control {
	return patch.Control{Name: name, Help: help, Scales: []patch.Scale{{
		Unit: "s", Max: most, Default: start, Moves: []patch.Move{{Unit: "s", Kind: patch.MoveLinear, Max: most}},
	}}}
}
