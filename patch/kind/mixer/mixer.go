// Package mixer is the kind of module that adds signals, each at its level.
//
//	in 1 x level 1 + ... + in 16 x level 16 -> out
package mixer

import (
	"strconv"

	"lampblack/patch"
	"lampblack/patch/dsp/lanes"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

const (
	// Inputs is how many signals one mixer adds.
	Inputs = 16
	// shown is how many of them a sheet shows of a new mixer.
	shown = 4
)

// Kind is the catalogue entry.
func Kind() *module.Kind { return &module.Kind{Kind: words(), New: newSound} }

func words() patch.Kind {
	k := patch.Kind{
		Name: "mixer", Title: "mixer", Family: patch.Levels, Symbol: "mixer", Version: 1, Grows: shown,
		Help: `Adds up to 16 signals, each at its own level. It starts with four; joining the
last one shown brings the next.

    out = 1 x level 1 + 2 x level 2 + ... + 16 x level 16

Two equal signals add to 6.02 dB more than one; two signals that have nothing
to do with each other (two noises, two tones of different pitch) add as
powers, to 3.01 dB more; n of them to 10 log n dB more, 16 to 12 dB. A level
of -96 dB is off: that input adds exactly nothing. Nothing is limited here; a
sum may pass +-1, and only the output at the end has to stay below it.

It is mono. For a place between the loudspeakers join a pan to each source and
mix the left sides in one mixer, the right sides in another.

Source: 20 log 2 and 10 log n; any textbook of acoustics.`,
		Outputs: []patch.Output{{Name: "out", Help: "The sum of the inputs at their levels."}},
	}
	for i := 1; i <= Inputs; i++ {
		n := strconv.Itoa(i)
		k.Inputs = append(k.Inputs, patch.Input{Name: n, Help: "Signal " + n + ", heard at level " + n + "."})
		k.Controls = append(k.Controls, control.Level("level "+n,
			"Gain of input "+n+", -96 dB (off) to +24 dB; 0 dB adds it unchanged. A cord moves it as a factor (x: depth 1 multiplies by the voltage) or in dB.", 24, 0))
	}
	return k
}

type sound struct{}

func newSound(module.Setup) module.Sound { return sound{} }

// Block adds the inputs in their order. It keeps no state. What is not joined is
// not looked at.
func (sound) Block(b *module.Block) {
	out := b.Out[0][:b.N]
	clear(out)
	for k, joined := range b.Joined {
		if joined {
			add(out, b.In[k][:b.N], &b.Controls[k])
		}
	}
}

func add(out, in []float64, level *module.Control) {
	if level.Steady {
		lanes.AddScaled(out, in, control.Gain(level.V[0]))
		return
	}
	var gains [module.MaxBlock]float64
	control.Gains(gains[:len(in)], level.V)
	lanes.AddProduct(out, in, gains[:])
}
