package envelope

import (
	"lampblack/patch/dsp/approx"
	"lampblack/patch/module"
)

// aim is where the attack charges to: 1/(1 - 1/e), so that 1 is reached after
// exactly one time constant.
const aim = 1.5819767068693265

// silent is the level below which a release is over (-300 dB).
const silent = 1e-15

// The parts of the envelope.
const (
	released = iota
	attacking
	held // decaying towards the sustain level, and staying there
)

type sound struct {
	rate          float64
	y             float64 // the level
	part          int
	gate, trigger bool // whether the inputs were above 0.5 at the last sample
	times         [3]charge
}

// charge is the step of an RC curve for one of the times, kept for as long as
// that time stays the same.
type charge struct{ time, step float64 }

func newSound(s module.Setup) module.Sound { return &sound{rate: s.Rate} }

// Block shapes the note. The sample on which a gate or trigger arrives still
// gives the old level: it is time 0 of the curve.
func (s *sound) Block(b *module.Block) {
	gate, trigger, out := b.In[0][:b.N], b.In[1][:b.N], b.Out[0][:b.N]
	sustain := b.Controls[2].V[:b.N]
	for i := range out {
		s.follow(gate[i] > 0.5, trigger[i] > 0.5)
		out[i] = s.y
		switch s.part {
		case attacking:
			s.attack(s.step(0, b.Controls[0].V[i]))
		case held:
			s.y += float64(s.step(1, b.Controls[1].V[i]) * (sustain[i] - s.y))
			s.settle()
		default:
			if s.y > 0 {
				s.y -= float64(s.step(2, b.Controls[3].V[i]) * s.y)
				s.settle()
			}
		}
	}
}

// follow changes the part when the gate or the trigger changes.
func (s *sound) follow(gate, trigger bool) {
	switch {
	case gate && !s.gate, trigger && !s.trigger:
		s.part = attacking
	case !gate && s.gate:
		s.part = released
	}
	s.gate, s.trigger = gate, trigger
}

func (s *sound) attack(step float64) {
	s.y += float64(step * (aim - s.y))
	if s.y < 1 {
		return
	}
	s.y = 1
	s.part = held
	if !s.gate {
		s.part = released
	}
}

func (s *sound) settle() {
	if s.y < silent {
		s.y = 0 // an exponential never gets there, and tiny numbers are slow on some processors
	}
}

// step returns the part of the way to go in one sample for the time of control
// number k (0 attack, 1 decay, 2 release).
func (s *sound) step(k int, time float64) float64 {
	c := &s.times[k]
	if time != c.time {
		c.time = time
		c.step = approx.Charge(1 / float64(time*s.rate))
	}
	return c.step
}
