package oscillator

import (
	"lampblack/patch/dsp/approx"
	"lampblack/patch/dsp/wave"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

type sound struct {
	inverse float64 // 1 / sample rate
	phase   float64
}

func newSound(s module.Setup) module.Sound { return &sound{inverse: 1 / s.Rate} }

// Block runs the cycle on.
func (s *sound) Block(b *module.Block) {
	out := b.Out[0][:b.N]
	for i := range out {
		switch control.Number(b.Controls[1].V[i], 3) {
		case 0:
			out[i] = approx.Sine(s.phase)
		case 1:
			out[i] = wave.Triangle(s.phase)
		case 2:
			out[i] = wave.Saw(s.phase)
		default:
			out[i] = wave.Pulse(s.phase, b.Controls[2].V[i])
		}
		s.phase += min(float64(b.Controls[0].V[i]*s.inverse), 0.49)
		if s.phase >= 1 {
			s.phase--
		}
	}
}
