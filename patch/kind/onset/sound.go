package onset

import (
	"math"

	"lampblack/patch/dsp/approx"
	"lampblack/patch/dsp/bound"
	"lampblack/patch/dsp/hiss"
	"lampblack/patch/dsp/logarithm"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

const (
	bands  = 4
	while  = 0.06         // seconds over which the past is averaged
	falls  = 0.012        // seconds in which the past is forgotten when it sinks: what comes after a loud sound is not hidden for long
	holds  = 0.025        // seconds for which the past waits before it sinks: the pulses of a tone of 40 Hz and more are one sound
	top    = 24           // dB: what the output rising calls 1
	sweep  = 64           // samples after which what has vanished is forgotten
	floor0 = 1e-12        // power added to the past: silence (-120 dB) divides by it
	half   = 3.0102999566 // dB for each octave of power
)

// moments are the seconds over which the power of the moment is averaged: about
// three over the width of the band, so that noise does not waver much.
var moments = [bands]float64{0.010, 0.005, 0.003, 0.002}

// edges are those of the bands, in Hz.
var edges = [bands - 1]float64{300, 1200, 4800}

// The bands that each choice listens to: from, to.
var choices = [...][2]int{{0, bands}, {0, 2}, {2, bands}}

// The controls, by their place.
const (
	rise = iota
	floor
	dead
	listens
)

type sound struct {
	inverse float64 // 1 / sample rate
	at      int     // samples since the last sweep
	middle  hiss.Split
	lower   hiss.Split
	upper   hiss.Split
	steps   [bands]float64
	slow    float64        // steps of the while, up
	fall    float64        // and down
	moment  [bands]float64 // powers
	while   [bands]float64
	waited  [bands]int // samples for which the moment has been below the while
	patient int        // how many of them are waited for
	since   float64    // seconds since the last beginning
	armed   bool
}

func newSound(s module.Setup) module.Sound {
	o := &sound{inverse: 1 / s.Rate, armed: true, since: 1000}
	o.lower, o.middle, o.upper = hiss.NewSplit(edges[0], s.Rate), hiss.NewSplit(edges[1], s.Rate), hiss.NewSplit(edges[2], s.Rate)
	for k := range o.steps {
		o.steps[k] = approx.Charge(1 / float64(moments[k]*s.Rate))
	}
	o.fall = approx.Charge(1 / float64(falls*s.Rate))
	o.patient = int(holds * s.Rate)
	o.slow = approx.Charge(1 / float64(while*s.Rate))
	return o
}

// Block listens, sample by sample.
func (s *sound) Block(b *module.Block) {
	in, trigger, rising, c := b.In[0][:b.N], b.Out[0][:b.N], b.Out[1][:b.N], b.Controls
	rises, floors, deads, kinds := c[rise].V[:b.N], c[floor].V[:b.N], c[dead].V[:b.N], c[listens].V[:b.N]
	for i, x := range in {
		s.hear(bound.In(x, &b.Clamped), s.since < deads[i])
		ratio := s.most(choices[control.Number(kinds[i], len(choices)-1)], float64(floors[i]*floors[i]))
		trigger[i], rising[i] = 0, 0
		if s.decide(ratio, rises[i], deads[i]) {
			trigger[i] = 1
		}
		if ratio > 1 {
			rising[i] = min(float64(logarithm.Log2(ratio)*(half/top)), 1)
		}
		if s.at++; s.at == sweep {
			s.at = 0
			s.flush()
		}
	}
}

// hear takes a sample into the powers of all bands.
func (s *sound) hear(x float64, dead bool) {
	low, high := s.middle.Next(x)
	var y [bands]float64
	y[0], y[1] = s.lower.Next(low)
	y[2], y[3] = s.upper.Next(high)
	for k, v := range y {
		p := float64(v * v)
		step := s.slow
		switch {
		case s.moment[k] < s.while[k]:
			step = 0
			if s.waited[k]++; s.waited[k] > s.patient {
				step, s.waited[k] = s.fall, s.patient
			}
		case dead:
			step, s.waited[k] = 1, 0 // what is still rising belongs to the beginning that was found
		default:
			s.waited[k] = 0
		}
		s.while[k] += float64(step * (s.moment[k] - s.while[k]))
		s.moment[k] += float64(s.steps[k] * (p - s.moment[k]))
	}
}

// most returns the largest power of a moment over that of the while, of the
// bands that are over the floor, or the root of the product of all that rise (in
// dB, half of their sum), whichever is larger.
func (s *sound) most(from [2]int, floor float64) float64 {
	best, over, under := 1.0, 1.0, 1.0
	for k := from[0]; k < from[1]; k++ {
		m, w := s.moment[k], s.while[k]+floor0
		if m > floor && m > w {
			over = float64(over * m)
			under = float64(under * w)
			if m > float64(best*w) {
				best = m / w
			}
		}
	}
	if all := over / under; all > float64(best*best) {
		return math.Sqrt(all)
	}
	return best
}

// decide reports whether something begins. rise is a factor of amplitude.
func (s *sound) decide(ratio, rise, dead float64) bool {
	s.since = min(s.since+s.inverse, 1000)
	if s.since < dead {
		return false
	}
	if !s.armed {
		s.armed = ratio < rise // half of the dB: the root of the power's ratio, rise^2
		return false
	}
	if !(ratio >= float64(rise*rise)) {
		return false
	}
	s.since, s.armed = 0, false
	return true
}

func (s *sound) flush() {
	s.lower.Flush()
	s.middle.Flush()
	s.upper.Flush()
	for k := range bands {
		s.moment[k] = flushPower(s.moment[k])
		s.while[k] = flushPower(s.while[k])
	}
}

// flushPower is bound.Flush for a square.
func flushPower(p float64) float64 {
	if p < 1e-30 {
		return 0
	}
	return p
}
