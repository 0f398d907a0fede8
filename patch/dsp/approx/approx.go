// Package approx holds the polynomials that stand in for sine, power of two
// and tangent where a sound needs one for every sample.
//
// The standard library's functions may differ in the last bit between
// processors (some have their own assembly); these are the same everywhere,
// because every product that feeds a sum is rounded first. Each states its
// largest error.
//
// The coefficients interpolate the function at Chebyshev nodes and were
// computed with 50 digits; held by tests against package math and math/big.
package approx

import "math"

// Sine returns sin(2 pi p) for a phase p of 0 to 1 cycles (1 included). Its
// largest error is 3e-15; Sine(0), Sine(0.5) and Sine(1) are exactly 0.
func Sine(p float64) float64 { return sine(1 - float64(2*p)) }

// Sines replaces every phase in p by its sine, as Sine would, in less time.
func Sines(p []float64) {
	for i, v := range p {
		p[i] = sine(1 - float64(2*v))
	}
}

// sine returns sin(pi x) for x of -1 to 1. Its zeros are divided out, and the
// rest, which is smooth, is summed in pairs of terms: one after the other they
// would wait for each other twice as long.
func sine(x float64) float64 {
	u := float64(x * x)
	w := float64(u * u)
	y := 0.000021138387182866455121 - float64(7.6861672454253652608e-7*u) + float64(2.0157659165698293769e-8*w)
	y = 0.0069252698614305553454 - float64(0.0004451577866282327941*u) + float64(y*w)
	y = 0.52404391340119431678 - float64(0.075220615739425305028*u) + float64(y*w)
	y = 3.1415926535897895434 - float64(2.0261201264595781252*u) + float64(y*w)
	return float64(x * (1 - u) * y)
}

// Exp2 returns 2^x with a relative error of at most 1e-15 for x of -1022 to
// 1023; x outside is taken as the nearer end. Exp2 of a whole number is exact.
func Exp2(x float64) float64 {
	if !(x > -1022) { // also when x is not a number
		x = -1022
	} else if x > 1023 {
		x = 1023
	}
	n := int64(x+1022.5) - 1022 // the nearest whole number; what is cut off is never below 0
	f := x - float64(n)         // -0.5 to 0.5, exact
	y := 7.0725859492692236999e-9
	y = float64(y*f) + 1.0208690299958305835e-7
	y = float64(y*f) + 1.3215442587921689653e-6
	y = float64(y*f) + 0.000015252657260200837064
	y = float64(y*f) + 0.00015403530441736050155
	y = float64(y*f) + 0.0013333558230164973899
	y = float64(y*f) + 0.0096181291076068885273
	y = float64(y*f) + 0.055504108664447719166
	y = float64(y*f) + 0.2402265069591009822
	y = float64(y*f) + 0.69314718055994998286
	y = float64(y*f) + 1
	return float64(y * math.Float64frombits(uint64(n+1023)<<52))
}

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
