// Package ring is the kind of module that multiplies two signals.
//
//	out = carrier x (leak + signal)
//
// Held by tests against the trigonometric identity: no other line above -200 dB.
package ring

import (
	"lampblack/patch"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// Kind is the catalogue entry.
func Kind() *module.Kind { return &module.Kind{Kind: words, New: newSound} }

var words = patch.Kind{
	Name: "ring", Title: "ring modulator", Family: patch.Modulators, Symbol: "multiplier", Version: 1,
	Help: `Multiplies two signals: of two tones only their sum and difference are left.

    out = carrier x (leak + signal)

With leak at 0 % it is balanced: neither of the two is heard by itself. Sines
of 440 and 100 Hz give 340 and 540 Hz, each at half of full scale (-6.02 dB).
A tone with harmonics gives a pair of lines for each of them; where the ratio
of the two frequencies is not one of small whole numbers, the lines belong to
no series: bells, voices of machines. Two equal tones give twice their
frequency and a steady voltage. When one of the two is silent, so is out.

Leak lets the carrier through: from ring modulation it goes to amplitude
modulation. At 100 % a sine of +-1 modulates it fully (m = 1): the carrier
stands as it is and each sideband 6.02 dB below it; at 200 % m is 0.5, and
the sidebands are 12.04 dB below.

All four signs are right (a four-quadrant multiplier), and nothing else is
added: no diodes, no transformer. Where a sum of frequencies would lie above
half the sample rate, it folds back.

Source: cos a cos b = (cos(a - b) + cos(a + b))/2; any textbook of
communications.`,
	Inputs: []patch.Input{
		{Name: "signal", Help: "The signal that modulates: heard as sidebands of the carrier."},
		{Name: "carrier", Help: "The signal that is multiplied. With no leak the two may be exchanged."},
	},
	Outputs: []patch.Output{{Name: "out", Help: "carrier x (leak + signal)."}},
	Controls: []patch.Control{
		control.Percent("leak", "How much of the carrier passes by itself, 0 (balanced) to 200 % (amplitude modulation with m = 0.5). A cord moves it in percent points.", 0, 200, 0),
	},
}

type sound struct{}

func newSound(module.Setup) module.Sound { return sound{} }

// Block multiplies sample by sample. It keeps no state.
func (sound) Block(b *module.Block) {
	out := b.Out[0][:b.N]
	signal, carrier, leak := b.In[0][:b.N], b.In[1][:b.N], b.Controls[0].V[:b.N]
	for i := range out {
		out[i] = float64(carrier[i] * (leak[i] + signal[i]))
	}
}
