// Package approx holds the polynomials that stand in for sine, power of two
// and tangent where a sound needs one for every sample.
//
// The standard library's functions may differ in the last bit between
// processors (some have their own assembly); these are the same everywhere,
// because every product that feeds a sum is rounded first. Each states its
// largest error. Sine and Exp2 stand in package lanes, which computes four of them
// at once.
//
// The coefficients interpolate the function at Chebyshev nodes and were
// computed with 50 digits; held by tests against package math and math/big.
package approx

import (
	"math"

	"lampblack/patch/dsp/lanes"
)

// Sine returns sin(2 pi p) for a phase p of 0 to 1 cycles (1 included). Its
// largest error is 3e-15; Sine(0), Sine(0.5) and Sine(1) are exactly 0.
func Sine(p float64) float64 { return lanes.Sine(p) }

// Sines replaces every phase in p by its sine, as Sine would, in less time.
func Sines(p []float64) { lanes.Sines(p) }

// Exp2 returns 2^x with a relative error of at most 1e-15 for x of -1022 to
// 1023; x outside is taken as the nearer end. Exp2 of a whole number is exact.
func Exp2(x float64) float64 { return lanes.Exp2(x) }

// Powers replaces every v by factor x Exp2(v), in less time.
func Powers(v []float64, factor float64) { lanes.Powers(v, factor) }

// Tan returns tan(pi v) for v of 0 to 0.4975 (a frequency over the sample
// rate). Its largest relative error is 2e-12.
func Tan(v float64) float64 {
	n, d := TanParts(v)
	return n / d
}

// TanParts returns n and d > 0 with n/d = tan(pi v), as Tan; a filter that
// divides anyway saves one division.
func TanParts(v float64) (n, d float64) {
	// The poles at v = +-1/2 are divided out; what is left is smooth.
	u := float64(v * v)
	y := -0.012282208232473043653
	y = float64(y*u) - 0.015507102041125413647
	y = float64(y*u) - 0.039951622220329634786
	y = float64(y*u) - 0.090000426267030262106
	y = float64(y*u) - 0.21054985695966550227
	y = float64(y*u) - 0.53907750001654942823
	y = float64(y*u) - 2.2309450554707531227
	y = float64(y*u) + 3.141592653592137841
	return float64(y * v), 1 - float64(4*u)
}

// Charge returns 1 - e^-x for x >= 0: the part of the way that an RC circuit
// goes in x time constants. Its relative error is at most 3e-15, however small
// x is, which is why it is not written as 1 minus a power.
func Charge(x float64) float64 {
	if x > 0.5 {
		return 1 - Exp2(float64(-math.Log2E*x))
	}
	// The series x (1 - x/2 + x^2/6 ...), by Horner's rule; the first term left
	// out is below 1e-16 of the sum.
	y := 1.0
	if x > 0.01 {
		y = 1 - float64(x*(1.0/14))
		y = 1 - float64(float64(x*(1.0/13))*y)
		y = 1 - float64(float64(x*(1.0/12))*y)
		y = 1 - float64(float64(x*(1.0/11))*y)
		y = 1 - float64(float64(x*(1.0/10))*y)
		y = 1 - float64(float64(x*(1.0/9))*y)
		y = 1 - float64(float64(x*(1.0/8))*y)
	}
	y = 1 - float64(float64(x*(1.0/7))*y)
	y = 1 - float64(float64(x*(1.0/6))*y)
	y = 1 - float64(float64(x*(1.0/5))*y)
	y = 1 - float64(float64(x*(1.0/4))*y)
	y = 1 - float64(float64(x*(1.0/3))*y)
	y = 1 - float64(float64(x*(1.0/2))*y)
	return float64(x * y)
}
