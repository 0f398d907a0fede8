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
	paces   [2]pace
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
	y := s.y
	for i, x := range in {
		x = bound.In(x, &b.Clamped)
		out[i] = y
		if x == y {
			continue
		}
		way := 0 // up
		if x < y {
			way = 1
		}
		samples := float64(times[way][i] * s.rate)
		if control.Number(curve[i], 1) == 0 {
			y = linear(y, x, s.paces[way].of(samples))
		} else {
			y = charge(y, x, s.charges[way].Of(samples))
		}
	}
	s.y = y
}

// pace keeps the step of one time for as long as that time stays the same.
type pace struct{ samples, step float64 }

func (p *pace) of(samples float64) float64 {
	if samples != p.samples {
		p.samples, p.step = samples, 1/samples
	}
	return p.step
}

// linear goes from y towards x by no more than step.
func linear(y, x, step float64) float64 {
	if x > y {
		return min(y+step, x)
	}
	return max(y-step, x)
}

// charge goes from y a part of the way towards x. Where a step is too small to
// move it, or near the end, it stands on x itself.
func charge(y, x, part float64) float64 {
	to := y + float64(part*(x-y))
	if d := x - to; to == y || d < near && d > -near {
		return x
	}
	return to
}
