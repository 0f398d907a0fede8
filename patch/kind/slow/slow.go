// Package slow is the kind of module that sways a control: the slow oscillator.
//
//	rate -> phase -> plain shape -> out
//
// Held by tests against the definitions of the shapes.
package slow

import (
	"lampblack/patch"
	"lampblack/patch/dsp/approx"
	"lampblack/patch/dsp/wave"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// Kind is the catalogue entry.
func Kind() *module.Kind { return &module.Kind{Kind: words, New: newSound, Bounded: true} }

var words = patch.Kind{
	Name: "slow", Title: "slow oscillator", Family: patch.Modulators, Symbol: "generator", Version: 1,
	Help: `A voltage that sways between -1 and +1, slowly enough to be followed.

Join it to a control: the depth of the cord says how far it pushes to either
side, in the control's own unit. A sine of 6 Hz into a frequency with a depth
of 0.03 oct is vibrato; into a level it is tremolo; at 0.1 Hz into a cutoff it
is wind.

    sine      swings like a pendulum
    triangle  goes up and down at an even speed
    saw       rises evenly and falls back at once
    pulse     jumps: up for the written width of the cycle, down for the rest

Saw and pulse keep their sharp corners, which is right for moving controls.
For a tone to be heard take an oscillator: its corners are band-limited.
All shapes rise through 0 at phase 0, the pulse by its jump. With p the phase in
cycles, 0 to 1: sine = sin(2 pi p); triangle = 4p up to a quarter, 2 - 4p up to
three quarters, then 4p - 4; saw = 2p up to a half, then 2p - 2; pulse = 1 while
p is below width, then -1.`,
	Inputs: []patch.Input{
		{Name: "restart", Open: patch.OpenSilence, Help: "Rising through 0.5 starts the cycle again at phase. Left open the oscillator runs free from the first sample on."},
	},
	Outputs: []patch.Output{{Name: "out", Control: true, Help: "The swaying voltage, -1 to +1."}},
	Controls: []patch.Control{
		control.Frequency("rate", "Cycles a second, 0.001 Hz (one in 17 minutes) to 100 Hz. A cord moves it in octaves or in Hz.", 0.001, 100, 1),
		control.Choice("shape", "Form of the cycle: sine, triangle, saw or pulse.", "sine", "triangle", "saw", "pulse"),
		control.Percent("width", "Duty cycle of the pulse: how much of the cycle it is up, 1 to 99 %. Other shapes have none. A cord moves it in percent points.", 1, 99, 50),
		{Name: "phase", Help: "How far into the cycle it starts, 0 to 360 degrees: 90 starts a sine at its top. Moving it later shifts the whole swing. A cord moves it in degrees.",
			Scales: []patch.Scale{{Unit: "deg", Max: 360, Moves: []patch.Move{{Unit: "deg", Kind: patch.MoveLinear, Max: 360}}}}},
	},
}

type sound struct {
	inverse float64 // 1 / sample rate
	phase   float64 // 0 <= phase < 1, in cycles, without the control's share
	restart bool    // whether restart was above 0.5 at the last sample
}

func newSound(s module.Setup) module.Sound { return &sound{inverse: 1 / s.Rate} }

// Block runs the cycle on.
func (s *sound) Block(b *module.Block) {
	out, restart := b.Out[0][:b.N], b.In[0][:b.N]
	rate, shape := b.Controls[0].V[:b.N], b.Controls[1].V[:b.N]
	width, shift := b.Controls[2].V[:b.N], b.Controls[3].V[:b.N]
	phase := s.phase
	for i := range out {
		up := restart[i] > 0.5
		if up && !s.restart {
			phase = 0
		}
		s.restart = up
		p := phase + float64(shift[i]*(1.0/360))
		if p >= 1 {
			p--
		}
		switch control.Number(shape[i], 3) {
		case 0:
			out[i] = approx.Sine(p)
		case 1:
			out[i] = wave.Triangle(p)
		case 2:
			out[i] = wave.Saw(p)
		default:
			out[i] = wave.Pulse(p, width[i])
		}
		if phase += float64(rate[i] * s.inverse); phase >= 1 {
			phase--
		}
	}
	s.phase = phase
}
