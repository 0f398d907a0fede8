package slew

import (
	"lampblack/patch/dsp/bound"
	"lampblack/patch/dsp/rc"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// near is how far from its aim, as a difference, an exponential counts as there
// (-300 dB).
const near = 1e-15

type sound struct {
	rate    float64 // samples a second
	y       float64 // where it stands
	begun   bool    // whether a first value has come
	charges [2]rc.Step
}

func newSound(s module.Setup) module.Sound { return &sound{rate: s.Rate} }

// Block follows what comes in.
func (s *sound) Block(b *module.Block) {
	in, out, curve := b.In[0][:b.N], b.Out[0][:b.N], b.Controls[2].V[:b.N]
	times := [2][]float64{b.Controls[0].V[:b.N], b.Controls[1].V[:b.N]}
	if !s.begun {
		s.y, s.begun = bound.In(in[0], &b.Clamped), true
	}
	for i, x := range in {
		x = bound.In(x, &b.Clamped)
		out[i] = s.y
		if x == s.y {
			continue
		}
		way := 0 // up
		if x < s.y {
			way = 1
		}
		samples := float64(times[way][i] * s.rate)
		if control.Number(curve[i], 1) == 0 {
			s.linear(x, 1/samples)
		} else {
			s.charge(x, s.charges[way].Of(samples))
		}
	}
}

// linear goes towards x by no more than step.
func (s *sound) linear(x, step float64) {
	switch d := x - s.y; {
	case d > step:
		s.y += step
	case d < -step:
		s.y -= step
	default:
		s.y = x
	}
}

// charge goes a part of the way towards x. Where a step is too small to move it,
// or near the end, it stands on x itself.
func (s *sound) charge(x, part float64) {
	before := s.y
	s.y += float64(part * (x - before))
	if d := x - s.y; s.y == before || d < near && d > -near {
		s.y = x
	}
}
