package oscillator

import "lampblack/patch/module"

// starts tells where cycles start: a start at time t (0 <= t < 1) after the
// sample before last gives -t at the last but one and 1-t at the next value, so
// that the straight line between the two passes 0 exactly at t. All other values
// are 0.
type starts struct {
	told [module.MaxBlock + 3]float64
	some bool    // whether anything but 0 is told
	last float64 // of the signal that starts our cycle
}

// latest is the largest time below 1: at 1 nothing would rise above 0.
const latest = 1 - 1.0/(1<<53)

// tell writes a start at time t of the step that ends with sample i of the
// block. A start right behind another one has no room; it is told one sample
// late.
func (s *starts) tell(i int, t float64) {
	if s.told[i] > 0 {
		i++
	}
	s.some = true
	s.told[i] = -min(t, latest)
	s.told[i+1] = 1 - min(t, latest)
}

// flush hands over the first len(out) values.
func (s *starts) flush(out []float64) {
	if !s.some {
		clear(out)
		return
	}
	n := copy(out, s.told[:])
	rest := [3]float64(s.told[n : n+3])
	clear(s.told[:n+3])
	copy(s.told[:], rest[:])
	s.some = rest != [3]float64{}
}

// rise returns when, in the step that ends with x, a signal rises through 0, on
// the straight line from its last value; or -1. Through 0 is from 0 or below to
// above, so that a start exactly on a sample, told as 0 and 1, counts, and
// neither silence nor what is no number does.
func rise(last, x float64) float64 {
	if last <= 0 && x > 0 {
		return within(-last / (x - last))
	}
	return -1
}
