// Package noise is the kind of module that hisses: white and pink noise.
//
//	seeds, number of the sample -> white -> (pink filter) -> out
//
// Held by tests against Welch's method: level, flatness, slope.
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
	Name: "noise", Title: "noise", Family: patch.Sources, Symbol: "noise", Version: 1,
	Help: `All frequencies at once, by chance, and yet the same every time.

    white  equal power in every Hz. Values are spread evenly over -1 to +1:
           rms 0.577 (-4.77 dB re full scale), at any sample rate.
    pink   equal power in every octave: 3.01 dB less for each octave up
           (power ~ 1/f), which sounds even to the ear. Its rms between 20 Hz
           and 20 kHz is 0.2 (-14 dB); a peak over 1 is rare.

The numbers come from the patch's seed, the module's name and the seed that is
written here: the same patch gives the same hiss to the last bit, so a take can
be proved. Another seed, or another name, gives another hiss of the same kind.

Through a narrowing band-pass noise turns into a tone: try a filter behind it
and bring its width down from 1 kHz to 10 Hz.

Sources: sample n is SplitMix64's mix of seed and n (Steele, Lea and Flood,
OOPSLA 2014); pink is white through a filter fitted to 1/f within 0.005 dB from
20 Hz to 20 kHz; power per Hz as in Welch, IEEE Trans. AU-15(2), 1967.`,
	Outputs: []patch.Output{{Name: "out", Help: "The noise: white within +-1, pink with an rms of 0.2."}},
	Controls: []patch.Control{
		control.Choice("colour", "White (equal power in every Hz) or pink (equal power in every octave).", "white", "pink"),
		{Name: "seed", Help: "Which of 10,000 noises, 0 to 9999. No cord moves it.",
			Scales: []patch.Scale{{Max: 9999, Taper: patch.Stepped}}},
	},
}
