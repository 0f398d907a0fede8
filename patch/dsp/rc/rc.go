// Package rc is the step of a capacitor that charges through a resistor.
//
//	y += step x (aim - y), step = 1 - e^(-1 / (time x rate))
//
// For an aim that stands still between samples it is exact, not an approximation:
// after one time constant 63.212 % of the way is done (first-order theory).
package rc

import "lampblack/patch/dsp/approx"

// Step keeps the step of one time for as long as that time stays the same. The
// zero value is ready.
type Step struct{ samples, step float64 }

// Of returns the part of the way to go in one sample, for a time constant of so
// many samples (more than 0).
func (s *Step) Of(samples float64) float64 {
	if samples != s.samples {
		s.samples = samples
		s.step = approx.Charge(1 / samples)
	}
	return s.step
}
