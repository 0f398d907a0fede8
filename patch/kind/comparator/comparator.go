// Package comparator is the kind of module that makes a gate of a voltage.
//
//	in - against > threshold -> gate, and a trigger when it opens
package comparator

import (
	"lampblack/patch"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// Kind is the catalogue entry.
func Kind() *module.Kind { return &module.Kind{Kind: words, New: newSound, Bounded: true} }

var words = patch.Kind{
	Name: "comparator", Title: "comparator", Family: patch.Modulators, Symbol: "comparator", Version: 1,
	Help: `Says whether a voltage is above a threshold: 1 if it is, else 0.

    opens   when in - against rises above threshold + hysteresis/2
    closes  when it falls to threshold - hysteresis/2, or below

From a slow triangle it makes a gate of any duty cycle (threshold 0 % is half
of the time; a triangle of +-1 is above h for (1 - h)/2 of it); from a
smoothed random, gates at chance; from two voltages, which one is the higher.
A threshold that is moved at an audio rate makes pulses whose width follows.

Hysteresis keeps a voltage that trembles at the threshold from opening and
closing at every sample: it has to come back by that much (a Schmitt trigger).
With 0 % the gate is 1 exactly while in - against > threshold.

The jumps are sharp and stand on samples, right for gates; as a sound they
would alias.

Source: Schmitt, Journal of Scientific Instruments 15 (1938).`,
	Inputs: []patch.Input{
		{Name: "in", Help: "The voltage that is judged."},
		{Name: "against", Help: "A voltage that it is compared with; threshold is added to it. Left open it is 0."},
	},
	Outputs: []patch.Output{
		{Name: "gate", Control: true, Help: "1 while in is above, else 0."},
		{Name: "inverse", Control: true, Help: "1 while the gate is 0, else 0."},
		{Name: "trigger", Control: true, Help: "1 for the one sample on which the gate opens, else 0."},
		{Name: "end", Control: true, Help: "1 for the one sample on which the gate closes, else 0."},
	},
	Controls: []patch.Control{
		{Name: "threshold", Help: "Above it the gate is open, -100 to +100 % of full scale, or -10 to +10 octaves for pitches (1 oct is 100 %). A cord moves it in percent points or in octaves, as it is written.",
			Scales: []patch.Scale{
				{Unit: "%", Min: -100, Max: 100, Moves: []patch.Move{{Unit: "%", Kind: patch.MoveLinear, Max: 200}}},
				{Unit: "oct", Min: -10, Max: 10, Moves: []patch.Move{{Unit: "oct", Kind: patch.MoveLinear, Max: 20}}},
			}},
		control.Percent("hysteresis", "How much lower than it opens the gate closes, 0 to 100 % of full scale, half of it to either side of threshold. A cord moves it in percent points.", 0, 100, 1),
	},
}

type sound struct {
	open bool
}

func newSound(module.Setup) module.Sound { return new(sound) }

// Block compares sample by sample. What is no number changes nothing.
func (s *sound) Block(b *module.Block) {
	in, against := b.In[0][:b.N], b.In[1][:b.N]
	threshold, hysteresis := b.Controls[0].V[:b.N], b.Controls[1].V[:b.N]
	gate, inverse, trigger, end := b.Out[0][:b.N], b.Out[1][:b.N], b.Out[2][:b.N], b.Out[3][:b.N]
	for i, x := range in {
		above, half := x-against[i]-threshold[i], float64(hysteresis[i]*0.5)
		was := s.open
		if above > half {
			s.open = true
		} else if above <= -half {
			s.open = false
		}
		gate[i], inverse[i], trigger[i], end[i] = 0, 1, 0, 0
		if s.open {
			gate[i], inverse[i] = 1, 0
		}
		if s.open && !was {
			trigger[i] = 1
		}
		if was && !s.open {
			end[i] = 1
		}
	}
}
