package ahd

import (
	"math"

	"lampblack/patch/dsp/gate"
	"lampblack/patch/dsp/rc"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// aim is where the exponential attack charges to: 1/(1 - 1/e), so that 1 is
// reached after exactly one time constant.
const aim = 1.5819767068693265

// nearly is how far below the top a rise counts as there: what the rounding of a
// few million steps leaves. silent is where a fall is over (-300 dB).
const (
	nearly = 1e-12
	silent = 1e-15
)

// The parts of the envelope.
const (
	falling = iota // and resting at 0
	rising
	holding
)

// What a trigger does, in the order of the control's choices.
const (
	fromWhereItStands = iota
	fromZero
	notWhileUp
)

type sound struct {
	rate    float64 // samples a second
	y       float64 // the level
	part    int
	held    float64 // samples since the top
	trigger gate.Edge
	attack  rc.Step
	decay   rc.Step
}

func newSound(s module.Setup) module.Sound { return &sound{rate: s.Rate} }

// Block runs the envelope on.
func (s *sound) Block(b *module.Block) {
	trigger, out, up := b.In[0][:b.N], b.Out[0][:b.N], b.Out[1][:b.N]
	attack, hold, decay := b.Controls[0].V[:b.N], b.Controls[1].V[:b.N], b.Controls[2].V[:b.N]
	curve, retrigger := b.Controls[3].V[:b.N], b.Controls[4].V[:b.N]
	for i := range out {
		if s.trigger.Rises(trigger[i]) {
			s.start(control.Number(retrigger[i], notWhileUp))
		}
		if s.part == holding && s.held >= math.Floor(float64(hold[i]*s.rate)+0.5) {
			s.part = falling
		}
		out[i], up[i] = s.y, 0
		if s.part != falling {
			up[i] = 1
		}
		linear := control.Number(curve[i], 1) == 1
		switch {
		case s.part == rising:
			s.rise(float64(attack[i]*s.rate), linear)
		case s.part == holding:
			s.held++
		case s.y > 0:
			s.fall(float64(decay[i]*s.rate), linear)
		}
	}
}

// start begins the attack, unless the trigger shall change nothing.
func (s *sound) start(retrigger int) {
	if retrigger == notWhileUp && s.part != falling {
		return
	}
	if retrigger == fromZero {
		s.y = 0
	}
	s.part = rising
}

// rise goes one sample up, of an attack of so many.
func (s *sound) rise(samples float64, linear bool) {
	if linear {
		s.y += 1 / samples
	} else {
		s.y += float64(s.attack.Of(samples) * (aim - s.y))
	}
	if s.y > 1-nearly {
		s.y, s.part, s.held = 1, holding, 0
	}
}

// fall goes one sample down, of a decay of so many.
func (s *sound) fall(samples float64, linear bool) {
	least := silent
	if linear {
		s.y -= 1 / samples
		least = nearly
	} else {
		s.y -= float64(s.decay.Of(samples) * s.y)
	}
	if s.y < least {
		s.y = 0
	}
}
