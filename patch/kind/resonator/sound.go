package resonator

import (
	"lampblack/patch/dsp/bound"
	"lampblack/patch/dsp/loop"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// lowest is the lowest frequency in Hz.
const lowest = 20

// The controls, by their place.
const (
	frequency = iota
	decay
	harmonics
	damping
	kept
	mix
)

// What is kept, in the order of the control's choices.
const (
	noise = iota
	peak
)

type sound struct {
	rate         float64
	loop         *loop.Loop
	gain         float64 // of the input, and how much more at the next sample
	step, target float64
	begun        bool
}

func newSound(s module.Setup) module.Sound {
	return &sound{rate: s.Rate, loop: loop.New(s.Rate, lowest)}
}

// Block rings.
func (s *sound) Block(b *module.Block) {
	c := b.Controls
	for _, f := range c[frequency].V[:b.N] {
		b.Clamped = b.Clamped || f > loop.Highest*s.rate
	}
	for from := 0; from < b.N; {
		if s.loop.Left() == 0 {
			s.tune(c, from)
		}
		to := min(from+s.loop.Left(), b.N)
		s.run(b, from, to)
		from = to
	}
}

// tune says where the next segment goes.
func (s *sound) tune(c []module.Control, i int) {
	t := loop.Tuning{
		Hz:      min(max(c[frequency].V[i], lowest), loop.Highest*s.rate),
		Odd:     control.Number(c[harmonics].V[i], 1) == 1,
		Damping: c[damping].V[i],
	}
	if v := c[decay].V[i]; c[decay].Scale == 0 {
		t.T60 = v
	} else {
		t.Gain = max(v, -v)
		t.Odd = t.Odd != (v < 0)
	}
	s.loop.Tune(t)
	s.gain = s.target
	s.target = 1
	atPeak, ofNoise := t.Input()
	switch control.Number(c[kept].V[i], 2) {
	case noise:
		s.target = ofNoise
	case peak:
		s.target = atPeak
	}
	if !s.begun {
		s.begun, s.gain = true, s.target
	}
	s.step = float64((s.target - s.gain) * (1.0 / loop.Segment))
}

// run fills samples from to to, within a segment.
func (s *sound) run(b *module.Block, from, to int) {
	in, out, mixed := b.In[0][from:to], b.Out[0][from:to], b.Controls[mix].V[from:to]
	var fed, dry [loop.Segment]float64
	gain := s.gain
	for i, x := range in {
		x = bound.In(x, &b.Clamped)
		dry[i] = x
		fed[i] = float64(x * gain)
		gain += s.step
	}
	s.gain = gain
	s.loop.Run(fed[:to-from], fed[:to-from], nil, &b.Clamped)
	for i, m := range mixed {
		out[i] = float64(m*fed[i]) + float64((1-m)*dry[i])
	}
}
