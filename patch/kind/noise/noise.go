// Package noise is the kind of module that hisses, rumbles and crackles.
//
//	seeds, number of the sample -> white -> (filter of a colour) -> out
//	seeds, number of the sample -> chance -> tick -> out
//
// A sample depends on the seeds and its number, so a run may begin anywhere and
// gives the same bits: see Seek.
//
// Held by tests against Welch's method: level, flatness, slope; and against
// Poisson's law: how often it crackles.
package noise

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
	Name: "noise", Title: "noise", Family: patch.Sources, Symbol: "noise", Version: 2,
	Help: `All frequencies at once, by chance, and yet the same every time.

    white    equal power in every Hz: a hiss. Values are spread evenly over -1
             to +1: rms 0.577 (-4.77 dB re full scale), at any sample rate.
    pink     equal power in every octave: 3.01 dB less per Hz for each octave up
             (power ~ 1/f), which sounds even to the ear. Its rms between 20 Hz
             and 20 kHz is 0.2 (-14 dB); a peak over 1 is rare.
    brown    6.02 dB less for each octave up (power ~ 1/f^2), as of a particle
             pushed about by chance: a rumble, surf, distant thunder. Below 5 Hz
             it is level, so that it does not drift away. Its rms is 0.2
             (-14 dB), of which 0.079 (-22 dB) is above 20 Hz.
    blue     3.01 dB more for each octave up (power ~ f): sharp, like steam. Its
             rms is 0.2 at any sample rate.
    violet   6.02 dB more for each octave up (power ~ f^2). Its rms is 0.2.
    crackle  separate ticks at times that nothing foretells (Poisson): rain on
             a sheet, a fire, an old disc. Each lasts 0.15 ms, up or down by
             chance, its peak anywhere from 0.01 to 1, even in dB. Its spectrum
             ends at 20 kHz; what is beyond is 57 dB down, so nothing folds.
             The density says how many there are a second, on average: a
             slow oscillator into it is wind in the fire.

The numbers come from the patch's seed, the module's name and the seed that
is written here: the same patch gives the same hiss to the last bit, so a
take can be proved. Another seed, or another name, gives another hiss of the
same kind.

Through a narrowing band-pass noise turns into a tone: try a filter behind it
and bring its width down from 1 kHz to 10 Hz.

Sources: sample n is SplitMix64's mix of seed and n (Steele, Lea and Flood,
OOPSLA 2014); pink and blue are white through filters fitted within 0.005 dB
from 20 Hz to 20 kHz, brown and violet within 0.001 dB; power per Hz as in
Welch, IEEE Trans. AU-15(2), 1967; ticks are Blackman's window (Harris,
Proc. IEEE 66(1), 1978).`,
	Outputs: []patch.Output{{Name: "out", Help: "The noise: white within +-1, the other colours with an rms of 0.2, ticks of +-1 at most (more where they overlap)."}},
	Controls: []patch.Control{
		control.Choice("colour", "White (even in Hz), pink (even in octaves), brown (rumble), blue and violet (sharp), or crackle (separate ticks). A cord moves it by as many words.", "white", "pink", "brown", "blue", "violet", "crackle"),
		control.Count("seed", "Which of 10,000 noises, 0 to 9999. A cord moves it by as many, to the nearest: a new noise at every step.", 0, seeds-1, 0),
		control.Frequency("density", "Of crackle: ticks a second on average, 0.1 to 5000 Hz; one a sample at most. Other colours have none. A cord moves it in octaves or in Hz.", 0.1, 5000, 20),
	},
}
