package plucked

import (
	"math"

	"lampblack/patch/dsp/approx"
	"lampblack/patch/dsp/bound"
	"lampblack/patch/dsp/hash"
	"lampblack/patch/module"
)

// ramp is the longest time in seconds in which the hand comes and goes.
const ramp = 0.001

// hand plucks: it lies on the string for one round and makes noise.
type hand struct {
	rate    float64
	seed    uint64
	count   uint64  // plucks so far
	key     uint64  // of the noise of this pluck
	at      uint64  // the next sample of it
	left    float64 // samples until the hand goes
	on      float64 // 0 to 1: how far the noise is up
	grip    float64 // 0 to 1: how far the finger holds what comes round
	step    float64 // by which the two change
	level   float64
	low     float64 // state of the low-pass that is the hardness
	corner  float64 // for which the two below were computed, in Hz
	g, gain float64
}

func newHand(s module.Setup) hand { return hand{rate: s.Rate, seed: s.Seed} }

// pluck starts a burst of a round's length in samples.
func (h *hand) pluck(level, round float64, alike bool) {
	h.count++
	h.key = hash.Key(h.seed, h.count)
	if alike {
		h.key = hash.Key(h.seed, 1)
	}
	h.at, h.left, h.level = 0, round, level
	h.step = 1 / max(min(round/8, ramp*h.rate), 1)
}

// busy says whether there is anything left to come.
func (h *hand) busy() bool { return h.left > 0 || h.on > 0 || h.grip > 0 || h.low != 0 }

// next returns the next sample of the burst. The trapezoidal low-pass (Simper,
// 2013) passes white noise with g/(1+g) of its power, which is given back.
func (h *hand) next(hardness float64) float64 {
	if hardness != h.corner {
		h.corner = hardness
		t := approx.Tan(min(hardness/h.rate, 0.49))
		h.g = t / (1 + t)
		h.gain = 1 / math.Sqrt(h.g)
	}
	if h.left > 0 {
		h.left--
		h.on = min(h.on+h.step, 1)
	} else {
		h.on = max(h.on-h.step, 0)
	}
	if float64(h.left*h.step) > 1 { // it is gone when the new wave has come round
		h.grip = min(h.grip+h.step, 1)
	} else {
		h.grip = max(h.grip-h.step, 0)
	}
	x := 0.0
	if h.on > 0 {
		x = float64(float64(hash.Signed(h.key, h.at)*h.level) * smooth(h.on))
		h.at++
	}
	v := float64((x - h.low) * h.g)
	low := h.low + v
	h.low = bound.Flush(low + v)
	return float64(low * h.gain)
}

// smooth rounds the corners of a ramp of 0 to 1. What it makes of x and of 1 - x
// is 1 together, so that the end of a burst and its start, come round, join.
func smooth(x float64) float64 { return float64(float64(x*x) * (3 - float64(2*x))) }
