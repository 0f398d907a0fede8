// Package vocoder is the kind of module that lets one sound speak through
// another: the channel vocoder.
//
//	voice -> bands -> envelopes ---+
//	carrier -> bands ------------ times -> sum -> out
//	voice -> hiss, while it hisses ---------------^
//
// Held by tests: the carrier's bands sum to it, level within 0.1 dB, and a
// band's width, gain and envelope are those of the theory.
package vocoder

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
	Name: "vocoder", Title: "channel vocoder", Family: patch.Followers, Symbol: "vocoder", Version: 1,
	Help: `Lets one sound speak through another. The voice is cut into bands, and the
level of each moves the level of the same band of the carrier. What is heard
is the carrier (its pitch, its grain) with the voice's vowels and
consonants: wind that speaks, an engine that sings. A carrier needs
something in every band to be understood: saws, chords, noise. Left open it
is noise, a whisper.

    bands    3 or 4 bands of noise carry words to an attentive ear; 8 sound
             like a machine, 16 are clear, 32 let single overtones through
    shift    moves the carrier's bands against the voice's: +0.3 oct makes
             the speaker smaller, -0.3 oct larger
    hiss     consonants such as s and f have no pitch; while the voice is of
             that kind its own treble is let through
    hold     keeps the vowel of the moment for as long as the gate is up
    depth    0 % holds all bands open: the carrier, unchanged in level

The voice's bands are Butterworth band-passes, 12 dB/oct to either side and
3 dB down where they meet. Their levels are averaged over attack (rectified,
and scaled so that a sine of amplitude 1 reads 1) and fall no faster than
release. The carrier is cut by a chain of splits, each of 30 dB/oct; a split
is a pair of all-passes A and B, its low side (A+B)/2, its high side
(B-A)/2, so both together are B, which is level at all frequencies; what was
cut off below goes through B too, to stay in step. So all bands together are
level to the last digit, whatever their number and edges. The lowest band
goes down to 0 Hz and the highest up to the end.

Sources: Dudley, Remaking speech, JASA 11, 1939; Shannon et al., Science 270,
1995 (words through 3 to 4 bands; from memory); Glasberg and Moore, Hear. Res.
47, 1990 (bands even to the ear); Regalia, Mitra and Vaidyanathan, Proc. IEEE
76(1), 1988 (filters as sums of all-passes).`,
	Inputs: []patch.Input{
		{Name: "voice", Help: "What speaks: a voice, a recording, any sound that moves."},
		{Name: "carrier", Help: "What is made to speak. Left open it is white noise."},
		{Name: "hold", Help: "While above 0.5 all bands keep their levels."},
	},
	Outputs: []patch.Output{
		{Name: "out", Help: "The carrier with the voice's colours, and the hiss."},
		{Name: "hiss", Control: true, Help: "How much the voice is found to hiss, 0 to 1."},
	},
	Controls: []patch.Control{
		control.Count("bands", "How many bands, 8 to 32. Changing it while it sounds makes a click. A cord moves it by as many.", least, most, 16),
		control.Choice("spacing", "How the edges lie: even in octaves, or even to the ear (ear: as many bands in each critical band). A cord moves it by as many words.", "octaves", "ear"),
		control.Frequency("lowest", "Lower edge of the lowest band, 40 Hz to 1 kHz. A cord moves it in octaves or in Hz.", 40, 1000, 100),
		control.Frequency("highest", "Upper edge of the highest band, 1.5 kHz to 16 kHz. A cord moves it in octaves or in Hz.", 1500, 16000, 8000),
		control.Percent("width", "Width of the voice's bands, 25 to 400 % of the distance of their edges. Narrow bands follow single overtones, wide ones blur the vowels. A cord moves it in percent points.", 25, 400, 100),
		{Name: "shift", Help: "How far the carrier's bands lie above the voice's, -2 to +2 octaves. A cord moves it in octaves.",
			Scales: []patch.Scale{{Unit: "oct", Min: -2, Max: 2, Moves: []patch.Move{{Unit: "oct", Kind: patch.MoveLinear, Max: 4}}}}},
		control.Time("attack", "Time constant over which a band's level is averaged, 0.1 ms to 60 s. Short ones follow the voice's single pulses, which is rough. A cord moves it in octaves.", 0.008),
		control.Time("release", "Time constant with which a band's level falls at the fastest, 0.1 ms to 60 s. A cord moves it in octaves.", 0.04),
		control.Percent("depth", "How much the voice moves the bands: at 100 % they are as loud as the voice's, at 0 % all are open. A cord moves it in percent points.", 0, 100, 100),
		control.Level("sibilance", "Level at which the voice's treble above 4 kHz passes while it hisses, -96 dB (off) to +24 dB. A cord moves it as a factor or in dB.", 24, -6),
		control.Level("level", "Level of the bands' sum, -96 dB (off) to +36 dB. With a voice and noise the start is about as loud as the voice. A cord moves it as a factor or in dB.", 36, 18),
	},
}

const (
	least = 8
	most  = 32
)

// The controls, by their place.
const (
	bands = iota
	spacing
	lowest
	highest
	width
	shift
	attack
	release
	depth
	sibilance
	level
)
