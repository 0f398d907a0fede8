// Package logarithm tells how many octaves a number lies above 1.
//
// Its bits are the same on every processor, which those of the standard
// library need not be. Held by tests against package math.
package logarithm

import "math"

// DecibelsPerOctave is what a doubled amplitude is in dB: 20 log10(2).
const DecibelsPerOctave = 6.020599913279624

// Log2 returns the logarithm of x to the base 2 for a normal x > 0; a smaller
// x, or one that is no number, is taken as 2^-1022, infinity as the largest
// number. The error is at most 4e-16 times the larger of 1 and the result. A
// power of two is exact.
//
// The series is that of the area tangent, log2(m) = 2/ln 2 (t + t^3/3 + ...)
// with t = (m-1)/(m+1) (Abramowitz and Stegun, 4.1.27).
func Log2(x float64) float64 {
	if !(x >= 0x1p-1022) {
		x = 0x1p-1022
	} else if x > math.MaxFloat64 {
		x = math.MaxFloat64
	}
	bits := math.Float64bits(x)
	octave := int64(bits>>52) - 1023
	m := math.Float64frombits(bits&(1<<52-1) | 1023<<52) // 1 <= m < 2
	if m > math.Sqrt2 {
		m, octave = m/2, octave+1
	}
	t := (m - 1) / (m + 1) // at most 0.1716
	u := float64(t * t)
	y := 1.0 / 19
	y = 1.0/17 + float64(y*u)
	y = 1.0/15 + float64(y*u)
	y = 1.0/13 + float64(y*u)
	y = 1.0/11 + float64(y*u)
	y = 1.0/9 + float64(y*u)
	y = 1.0/7 + float64(y*u)
	y = 1.0/5 + float64(y*u)
	y = 1.0/3 + float64(y*u)
	y = 1 + float64(y*u)
	return float64(octave) + float64(float64(2*math.Log2E*t)*y)
}
