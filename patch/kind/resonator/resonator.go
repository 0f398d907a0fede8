// Package resonator is the kind of module that rings with what it hears: a
// delay that feeds itself, tuned like an instrument.
//
//	in -> loop in tune -> mix -> out
//
// Held by tests: pitch within 0.01 cent, decay within 0.1 %, peaks and notches
// of the comb as the formula has them.
package resonator

import (
	"lampblack/patch"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// Kind is the catalogue entry.
func Kind() *module.Kind { return &module.Kind{Kind: words, New: newSound, Bounded: true} }

var words = patch.Kind{
	Name: "resonator", Title: "resonator, tuned", Family: patch.Filters, Symbol: "resonator", Version: 1,
	Help: `A tube or a string without a player: whatever comes in rings at its pitch. It
goes round in a loop that takes 1/frequency. Noise becomes a whistle of
that pitch, a knock a note, a voice a chord of it.

    all  rings at frequency and all its multiples, like an open tube
    odd  every round turns the sign: rings at half the frequency and the odd
         multiples of that, an octave down and hollow, like a tube closed at
         one end

Decay can be written in two ways:

    in s  T60, in which the ringing at the lowest resonance falls by 60 dB. It
          stays as long when the frequency moves.
    in %  the gain g of one round; below 0 it turns the sign. The time is then
          T60 = ln(1000)/(frequency x -ln g): high pitches die sooner.

A comb has peaks of 1/(1-g) and dips of 1/(1+g): 50 % is +6.02 and -3.52 dB.
What is kept says how the input is weighed, so that a long decay need not be
loud:

    peak    a tone on the lowest resonance passes at 0 dB: x (1-g). Safe with
            tones; noise and knocks get weak when the decay is long.
    noise   white noise keeps its power: x sqrt(1-g^2). A tone that falls on a
            resonance comes out at sqrt((1+g)/(1-g)): 27 dB up for g = 99.6 %
            (440 Hz, 4 s). Raise levels with care.
    strike  no weight: a knock comes out as it went in, and rings behind.

Damping says how many times sooner the highest resonances die than the
lowest: 1 is metal, 10 wire, 100 gut or wood. It grows from the lowest up,
about as the square of the frequency, and neither pitch nor decay of the
lowest resonance depends on it. With damping the resonance at 0 Hz lasts
longer than the lowest tone; a high-pass before the input keeps steady
voltages out.

To play it, join pitch of a memory to frequency with +1 oct and write 440 Hz.
The loop is in tune within 0.01 cent from 20 Hz to 12 kHz at any damping: an
all-pass makes up what is left of a sample, set so that the phase of a whole
round is right at the lowest resonance. Pitch, decay and damping move in
segments of 16 samples (0.33 ms at 48 kHz), faded from one to the next: no
movement makes a click or makes the ringing grow, and one that is faster than
about 1 kHz is not followed.

Sources: Jaffe and Smith, Extensions of the Karplus-Strong plucked-string
algorithm, Computer Music Journal 7(2), 1983; Smith, Physical Audio Signal
Processing (comb filters, tuning by all-pass); ISO 3382 (T60).`,
	Inputs: []patch.Input{{Name: "in", Help: "What excites the resonator: noise, a knock, a voice. It is held within +-1000."}},
	Outputs: []patch.Output{
		{Name: "out", Help: "The input and the ringing, as mix says."},
	},
	Controls: []patch.Control{
		control.Frequency("frequency", "Rounds a second, 20 Hz to 12 kHz; at most a third of the sample rate. The lowest resonance, if all harmonics ring. A cord moves it in octaves or in Hz.", 20, 12000, 220),
		{Name: "decay", Help: "How long it rings: T60 of the lowest resonance in s, 10 ms to 60 s, or the gain of one round in %, -99.99 to +99.99 % (below 0 turns the sign). A cord moves it in octaves, or in percent points.",
			Scales: []patch.Scale{
				{Unit: "s", Min: 0.01, Max: 60, Default: 2, Taper: patch.Logarithmic, Moves: []patch.Move{patch.Octaves}},
				{Unit: "%", Min: -99.99, Max: 99.99, Default: 90, Moves: []patch.Move{{Unit: "%", Kind: patch.MoveLinear, Max: 200}}},
			}},
		control.Choice("harmonics", "Which ring: all of frequency, or odd (those of half the frequency, an octave down): then every round turns the sign. A cord moves it by as many words.", "all", "odd"),
		{Name: "damping", Help: "How many times sooner the highest resonances die than the lowest, 1 (none) to 1000. A cord moves it in octaves.",
			Scales: []patch.Scale{{Min: 1, Max: 1000, Default: 4, Taper: patch.Logarithmic, Moves: []patch.Move{patch.Octaves}}}},
		control.Choice("kept", "What stays level when the decay changes: peak (a tone on the lowest resonance), noise (the power of white noise), or strike (a knock). A cord moves it by as many words.", "noise", "peak", "strike"),
		control.Percent("mix", "Plain sound and ringing: 0 % the plain sound alone, 100 % the ringing alone. A cord moves it in percent points.", 0, 100, 100),
	},
}
