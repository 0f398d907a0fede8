package oscillator

import "math"

// path is how the oscillator's own phase moves between two samples, where a cycle
// that starts there must be told at once: a cubic through it and its two neighbours
// on either side (Everett's formula).
type path struct {
	step         float64 // how far it goes
	bend0, bend1 float64 // second differences at its ends
}

// reach returns when it has gone so far, 0 to 1. On a path that may turn back it is
// when a straight line would have.
func (q path) reach(far float64) float64 {
	t := far / q.step
	bends := q.bend0 + q.bend1
	if q.bend0 == 0 && q.bend1 == 0 || math.Abs(q.bend0)+math.Abs(q.bend1) >= math.Abs(q.step) {
		return within(t)
	}
	t += float64(float64(t*(1-t))*bends) / float64(4*q.step)
	a, b := float64((q.bend1-q.bend0)*(1.0/6)), float64(q.bend0*0.5)
	c := q.step - float64((float64(2*q.bend0)+q.bend1)*(1.0/6))
	for range 2 { // Newton's steps
		y := float64((float64((float64(a*t)+b)*t) + c) * t)
		slope := float64((float64(3*float64(a*t))+float64(2*b))*t) + c
		t -= (y - far) / slope
	}
	return within(t)
}

// within keeps a time between two samples, whatever wild movement made of it.
func within(t float64) float64 {
	if !(t > 0) {
		return 0
	}
	return min(t, 1)
}
