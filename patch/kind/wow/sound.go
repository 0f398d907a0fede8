package wow

import (
	"math"

	"lampblack/patch/dsp/approx"
	"lampblack/patch/dsp/hash"
	"lampblack/patch/dsp/line"
	"lampblack/patch/module"
)

const (
	nearest = 15   // samples: from here on the line is read by its full sinc
	longest = 0.08 // s: the way of the head with all at its largest
	stream  = 0x77 // of this kind's random numbers
)

// slope is the rms of the slope of drift between random places, 1 a second:
// root(2/3 x 10/7).
const slope = 0.9759000729485332

type sound struct {
	rate, inverse float64 // samples a second, and 1 / that
	key           uint64
	wow, flutter  float64 // phases in cycles
	drift         drift
	head          line.Head
	left, right   line.Line
}

// drift goes from random place to random place.
type drift struct {
	at       uint64  // number of the place that it comes from
	x        float64 // how far it has gone from there, 0 to 1
	from, to float64
}

func newSound(s module.Setup) module.Sound {
	n := &sound{rate: s.Rate, inverse: 1 / s.Rate, key: hash.Key(s.Seed, stream)}
	n.left, n.right = line.New(float64(longest*s.Rate)), line.New(float64(longest*s.Rate))
	n.drift.from, n.drift.to = hash.Signed(n.key, 0), hash.Signed(n.key, 1)
	return n
}

// Block moves the head and plays.
func (s *sound) Block(b *module.Block) {
	inL, inR := b.In[0][:b.N], b.In[1][:b.N]
	outL, outR := b.Out[0][:b.N], b.Out[1][:b.N]
	wowRate, wowDepth := b.Controls[0].V[:b.N], b.Controls[1].V[:b.N]
	flutterRate, flutterDepth := b.Controls[2].V[:b.N], b.Controls[3].V[:b.N]
	driftRate, driftDepth := b.Controls[4].V[:b.N], b.Controls[5].V[:b.N]
	for i := range outL {
		s.left.Put(line.Safe(inL[i], &b.Clamped))
		s.right.Put(line.Safe(inR[i], &b.Clamped))
		place := nearest + float64(s.reach(wowDepth[i], wowRate[i])*(1+approx.Sine(s.wow))) +
			float64(s.reach(flutterDepth[i], flutterRate[i])*(1+approx.Sine(s.flutter))) +
			float64(driftDepth[i]*s.rate/float64(slope*driftRate[i])*(1+s.drift.value()))
		s.head.Toward(place, 100*s.inverse)
		if b.Joined[1] {
			outL[i], outR[i] = s.head.Both(&s.left, &s.right)
		} else {
			y := s.head.Read(&s.left)
			outL[i], outR[i] = y, y
		}
		s.wow = turn(s.wow, float64(wowRate[i]*s.inverse))
		s.flutter = turn(s.flutter, float64(flutterRate[i]*s.inverse))
		s.drift.turn(float64(driftRate[i]*s.inverse), s.key)
	}
}

// reach is how far the head goes to either side, in samples.
func (s *sound) reach(depth, rate float64) float64 {
	return depth * s.rate / float64(2*math.Pi*rate)
}

// turn moves a phase on by step, both in cycles.
func turn(phase, step float64) float64 {
	if phase += step; phase >= 1 {
		phase--
	}
	return phase
}

// value is the place, -1 to 1: a curve without a jump even in its curvature.
func (d *drift) value() float64 {
	x := d.x
	y := 10 + float64(x*(float64(6*x)-15))
	return d.from + float64((d.to-d.from)*float64(float64(x*x)*float64(x*y)))
}

func (d *drift) turn(step float64, key uint64) {
	if d.x += step; d.x >= 1 {
		d.x--
		d.at++
		d.from, d.to = d.to, hash.Signed(key, d.at+1)
	}
}

// Resume goes on where from stands. The lines are copied, the rest lies in the
// struct itself.
func (s *sound) Resume(from module.Sound) {
	f, ok := from.(*sound)
	if !ok {
		return
	}
	left, right := s.left, s.right
	left.Copy(&f.left)
	right.Copy(&f.right)
	*s = *f
	s.left, s.right = left, right
}
