package engine

import "lampblack/patch/dsp/approx"

// glide goes to a value by a one-pole of SmoothSeconds and ends exactly on it.
// It moves once a sample, so it does not depend on the length of blocks.
type glide struct {
	y, target, step, eps float64
	moving               bool
}

// aim makes target the value to go to from here. Within eps of it the rest is
// done in one step.
func (g *glide) aim(target, rate, eps float64) {
	g.target, g.eps = target, eps
	g.step = approx.Charge(1 / (SmoothSeconds * rate))
	g.moving = g.y != target
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
