package envelope

import (
	"lampblack/patch/dsp/approx"
	"lampblack/patch/dsp/lanes"
	"lampblack/patch/kind/control"
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

// What a trigger does, in the order of the control's choices.
const (
	fromWhereItStands = iota
	fromZero
	notWhileHeld
)

// The times, by their place in sound.times.
const (
	attack = iota
	decay
	release
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
	gate, trigger := b.In[0][:b.N], b.In[1][:b.N]
	for i := 0; i < b.N; {
		s.follow(gate[i] > 0.5, trigger[i] > 0.5, control.Number(b.Controls[4].V[i], notWhileHeld))
		i += s.run(b, i, i+s.undisturbed(gate[i:], trigger[i:]))
	}
}

// undisturbed returns for how many samples, from the one just followed on,
// neither gate nor trigger changes.
func (s *sound) undisturbed(gate, trigger []float64) int {
	trigger = trigger[:len(gate)]
	if lanes.Same(gate) && lanes.Same(trigger) {
		return len(gate) // the first has just been followed
	}
	for i, g := range gate {
		if g > 0.5 != s.gate || trigger[i] > 0.5 != s.trigger {
			return i
		}
	}
	return len(gate)
}

// run fills samples i to j of the block, or fewer if the part ends before, and
// returns how many.
func (s *sound) run(b *module.Block, i, j int) int {
	out, times := b.Out[0][i:j], b.Controls
	switch s.part {
	case attacking:
		return s.attack(out, times[0].V[i:j])
	case held:
		s.approach(out, decay, times[1].V[i:j], times[2].V[i:j], times[1].Steady && times[2].Steady)
	default:
		s.approach(out, release, times[3].V[i:j], nothing[:j-i], times[3].Steady)
	}
	return j - i
}

// nothing is what a release approaches. Nobody writes to it.
var nothing [module.MaxBlock]float64

// follow changes the part when the gate or the trigger changes.
func (s *sound) follow(gate, trigger bool, retrigger int) {
	struck := trigger && !s.trigger && !(retrigger == notWhileHeld && gate)
	switch {
	case gate && !s.gate, struck:
		s.part = attacking
		if retrigger == fromZero {
			s.y = 0
		}
	case !gate && s.gate:
		s.part = released
	}
	s.gate, s.trigger = gate, trigger
}

// attack rises until the top is reached, and returns how many samples that took.
func (s *sound) attack(out, time []float64) int {
	for i := range out {
		out[i] = s.y
		s.y += float64(s.step(attack, time[i]) * (aim - s.y))
		if s.y < 1 {
			continue
		}
		s.y = 1
		s.part = held
		if !s.gate {
			s.part = released
		}
		return i + 1
	}
	return len(out)
}

// approach goes towards a level with one of the times. Steady says that neither
// of the two changes.
func (s *sound) approach(out []float64, which int, time, level []float64, steady bool) {
	y, step, goal := s.y, s.step(which, time[0]), level[0]
	switch {
	case steady && y+float64(step*(goal-y)) == y: // it has arrived, to the last bit
		lanes.Fill(out, y)
	case steady && goal == 0:
		s.y = fall(out, y, step)
	case steady:
		for i := range out {
			out[i] = y
			if y += float64(step * (goal - y)); y < silent {
				y = 0 // an exponential never gets there, and tiny numbers are slow on some processors
			}
		}
		s.y = y
	default:
		for i := range out {
			step, goal = s.step(which, time[i]), level[i]
			out[i] = y
			if y += float64(step * (goal - y)); y < silent {
				y = 0
			}
		}
		s.y = y
	}
}

// fall goes towards 0, in which a sample waits for one sum less; the bits are the
// same.
func fall(out []float64, y, step float64) float64 {
	for i := range out {
		out[i] = y
		if y -= float64(step * y); y < silent {
			y = 0
		}
	}
	return y
}

// step returns the part of the way to go in one sample for one of the times.
func (s *sound) step(which int, time float64) float64 {
	c := &s.times[which]
	if time != c.time {
		c.time = time
		c.step = approx.Charge(1 / float64(time*s.rate))
	}
	return c.step
}
