package oscillator

import "math"

// path is how a phase moves between two samples: a cubic through it and its two
// neighbours on either side (Everett's formula). Corners lie where the path
// reaches them; on a straight line instead, a frequency or width moved at audio
// rate would alias at -75 dB.
type path struct {
	from, step   float64 // where it is at time 0, and how far it goes until time 1
	bend0, bend1 float64 // second differences at time 0 and 1
}

// at returns the place at time t, 0 to 1.
func (q *path) at(t float64) float64 {
	return q.from + float64(t*q.step) - float64(t*(1-t)*(float64((2-t)*q.bend0)+float64((1+t)*q.bend1)))/6
}

// slope returns how fast the place moves at time t.
func (q *path) slope(t float64) float64 {
	tt := float64(t * t)
	return q.step - (float64((2-float64(6*t)+float64(3*tt))*q.bend0)+float64((1-float64(3*tt))*q.bend1))/6
}

// bend returns how fast the slope changes at time t.
func (q *path) bend(t float64) float64 {
	return float64((1-t)*q.bend0) + float64(t*q.bend1)
}

// reach returns when the place is x, 0 to 1. It must lie between both ends.
func (q *path) reach(x float64) float64 {
	t := (x - q.from) / q.step
	if q.bend0 != 0 || q.bend1 != 0 {
		for range 3 { // Newton's steps
			t = within(t - (q.at(t)-x)/q.slope(t))
		}
	}
	return within(t)
}

// tame says whether the place moves one way only, and evenly enough for reach.
func (q *path) tame() bool {
	// The slope differs from step by a third of this at most.
	return math.Abs(q.bend0)+math.Abs(q.bend1) < 2*math.Abs(q.step)
}

// cycle returns when the place is x, on a path that may be wild.
func (q *path) cycle(x float64) float64 {
	if q.tame() {
		return q.reach(x)
	}
	return within((x - q.from) / q.step)
}

// within keeps a time between two samples, whatever wild movement made of it.
func within(t float64) float64 {
	if !(t > 0) {
		return 0
	}
	return min(t, 1)
}
