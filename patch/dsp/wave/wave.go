// Package wave holds one cycle of each of the plain shapes.
//
// Every shape has its peaks at +-1 and rises through 0 at phase 0, so that the
// fundamentals of all of them are in step. The corners are sharp: at audio
// frequencies they alias, which package step mends.
package wave

import "math"

// Triangle returns the triangle at phase p, 0 to 1 cycles: 0, 1, 0, -1 at the
// quarters. Fourier series: 8/(pi n)^2 at odd n, signs alternating.
func Triangle(p float64) float64 { return math.Abs(math.Abs(float64(4*p)-1)-2) - 1 }

// Saw returns the rising saw at phase p, 0 to 1 cycles: from 0 to 1, a fall to
// -1 at half the cycle, and up to 0. Fourier series: 2/(pi n), signs alternating.
func Saw(p float64) float64 {
	if p < 0.5 {
		return float64(2 * p)
	}
	return float64(2*p) - 2
}

// Pulse returns 1 while p, 0 to 1 cycles, is below width, and then -1. Fourier
// series: 4/(pi n) |sin(pi n width)|, mean 2 width - 1.
func Pulse(p, width float64) float64 {
	if p < width {
		return 1
	}
	return -1
}
