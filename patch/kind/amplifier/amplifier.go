// Package amplifier is the kind of module that sets and modulates a level.
//
//	out = in * level * (1 + depth * modulation)
//
// Held by tests against the sidebands of amplitude modulation.
package amplifier

import (
	"lampblack/patch"
	"lampblack/patch/dsp/lanes"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// Kind is the catalogue entry.
func Kind() *module.Kind { return &module.Kind{Kind: words, New: newSound} }

var words = patch.Kind{
	Name: "amplifier", Title: "amplifier", Family: patch.Levels, Symbol: "amplifier", Version: 1,
	Help: `Makes a signal louder or softer, as fast as a voltage asks.

    out = in x level x (1 + depth x modulation)

Two ways in for a voltage, and they do different things:

- A cord into level multiplies. With a depth of 1 x, an envelope of 0 to 1
  opens and closes the sound completely.
- A cord into modulation swings the amplitude around the level that is
  written. A sine of +-1 there is amplitude modulation in the textbook sense:
  with a carrier fc and a modulator fm, depth m puts two sidebands at fc - fm
  and fc + fm, each m/2 of the carrier (m = 50 %: 12.04 dB down; 80 %: 7.96 dB;
  100 %: 6.02 dB). The carrier itself stays as it is. Peaks grow to 1 + m.

Below about 15 Hz the swing is heard as tremolo, beyond that as roughness,
and higher still the sidebands become tones of their own.

Source: the identity 2 cos a cos b = cos(a - b) + cos(a + b); any textbook of
communications. A level at -96 dB is off.`,
	Inputs: []patch.Input{
		{Name: "in", Help: "The signal to be made louder or softer."},
		{Name: "modulation", Help: "Amplitude modulation: +-1 swings the amplitude by depth. Left open it does nothing."},
	},
	Outputs: []patch.Output{{Name: "out", Help: "in x level x (1 + depth x modulation)."}},
	Controls: []patch.Control{
		control.Level("level", "Gain from in to out, -96 dB (off) to +24 dB; 0 dB passes the signal unchanged. A cord moves it as a factor (x: depth 1 multiplies by the voltage) or in dB.", 24, 0),
		control.Percent("depth", "How far modulation of 1 swings the amplitude, 0 to 100 %: the modulation index m of amplitude modulation. A cord moves it in percent points.", 0, 100, 0),
	},
}

type sound struct{}

func newSound(module.Setup) module.Sound { return sound{} }

// Block multiplies sample by sample. It keeps no state.
func (sound) Block(b *module.Block) {
	in, out := b.In[0][:b.N], b.Out[0][:b.N]
	level, depth := b.Controls[0], b.Controls[1]
	if level.Steady {
		lanes.Scale(out, in, control.Gain(level.V[0]))
	} else {
		control.Gains(out, level.V[:b.N])
		lanes.Multiply(out, in, out)
	}
	switch swing := b.In[1][:b.N]; {
	case !b.Joined[1]:
		// Not a different product: an open modulation is 0, and 1 + depth*0 is 1.
	case depth.Steady:
		lanes.Swing(out, swing, 1, depth.V[0])
	default:
		m := depth.V[:b.N]
		for i, x := range out {
			out[i] = float64(x * (1 + float64(m[i]*swing[i])))
		}
	}
}
