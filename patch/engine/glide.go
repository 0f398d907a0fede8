package engine

import (
	"math"

	"lampblack/patch/dsp/approx"
)

// glide goes to a value by a one-pole of SmoothSeconds and ends exactly on it.
// It moves once a sample, so it does not depend on the length of blocks.
type glide struct {
	y, target, step, eps float64
	moving               bool
}

// aim makes target the value to go to from here. The last millionth of the way
// (-120 dB, after 14 time constants) is done in one step.
func (g *glide) aim(target, rate float64) {
	g.target = target
	g.eps = 1e-6 * math.Abs(target-g.y)
	g.step = approx.Charge(1 / (SmoothSeconds * rate))
	g.moving = g.y != target
}

// from makes g begin where before stands; g's target stays.
func (g *glide) from(before *glide, rate float64) {
	g.y = before.y
	g.aim(g.target, rate)
}

// settle jumps to the target.
func (g *glide) settle() { g.y, g.moving = g.target, false }

// next moves on by one sample. It reports the value, and whether that is still
// on the way; at the end it is the target to the bit.
func (g *glide) next() (float64, bool) {
	if !g.moving {
		return g.target, false
	}
	d := g.target - g.y
	if d <= g.eps && d >= -g.eps {
		g.settle()
		return g.target, false
	}
	g.y += float64(g.step * d)
	return g.y, true
}
