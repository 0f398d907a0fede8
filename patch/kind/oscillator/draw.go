package oscillator

import (
	"math/bits"

	"lampblack/patch/dsp/lanes"
)

// draw writes the plain shape of the newest samples.
func (s *sound) draw(y []float64) {
	places := s.places[past : past+len(y)]
	switch s.shape {
	case triangle:
		for i, p := range places {
			y[i] = triangleAt(p)
		}
	case saw:
		for i, p := range places {
			y[i] = sawAt(p)
		}
	case pulse:
		widths := s.widths[past : past+len(y)]
		for i, p := range places {
			y[i] = pulseAt(p, widths[i])
		}
	case ahead:
		for i, p := range places {
			y[i] = lanes.Tone(turn(p))
		}
	}
}

// mendMoved mends the corners of the steps that are due.
func (s *sound) mendMoved(n int) {
	const from = past - along
	var due uint64
	places := s.places[from:]
	switch s.shape {
	case saw:
		due = crossed(places, n, 0, half)
	case triangle:
		due = crossed(places, n, 1, half)
	case pulse:
		due = crossed(places, n, 0, 0) | overtaken(places, s.widths[from:], n)
	}
	if s.shape != ahead {
		due |= turning(s.steps[from-1:], n)
	}
	if s.joined {
		for i, reset := range s.resets[from : from+n] {
			if reset != 0 {
				due |= 1 << i
			}
		}
	}
	s.measure(n, due)
	for ; due != 0; due &= due - 1 {
		k := from + bits.TrailingZeros64(due)
		if s.near(k) && !s.quick(k) {
			s.mend(k)
		}
	}
}
