package lanes

import "math"

// The coefficients of Sine's polynomial, as approx.Sine has them.
const (
	sin0 = 0.000021138387182866455121
	sin1 = 7.6861672454253652608e-7
	sin2 = 2.0157659165698293769e-8
	sin3 = 0.0069252698614305553454
	sin4 = 0.0004451577866282327941
	sin5 = 0.52404391340119431678
	sin6 = 0.075220615739425305028
	sin7 = 3.1415926535897895434
	sin8 = 2.0261201264595781252
)

// Those of Exp2's, from the highest power to the lowest but one (which is 1).
const (
	exp10 = 7.0725859492692236999e-9
	exp9  = 1.0208690299958305835e-7
	exp8  = 1.3215442587921689653e-6
	exp7  = 0.000015252657260200837064
	exp6  = 0.00015403530441736050155
	exp5  = 0.0013333558230164973899
	exp4  = 0.0096181291076068885273
	exp3  = 0.055504108664447719166
	exp2  = 0.2402265069591009822
	exp1  = 0.69314718055994998286
)

// Sine returns sin(2 pi p) for a phase p of 0 to 1 cycles (1 included). Its
// largest error is 3e-15; Sine(0), Sine(0.5) and Sine(1) are exactly 0.
//
// With x = 1 - 2p it is sin(pi x). Its zeros are divided out, and the rest, which
// is smooth, is summed in pairs of terms: one after the other they would wait for
// each other twice as long.
func Sine(p float64) float64 { return sine(1 - float64(2*p)) }

// sine returns sin(pi x).
func sine(x float64) float64 {
	u := float64(x * x)
	w := float64(u * u)
	y := sin0 - float64(sin1*u) + float64(sin2*w)
	y = sin3 - float64(sin4*u) + float64(y*w)
	y = sin5 - float64(sin6*u) + float64(y*w)
	y = sin7 - float64(sin8*u) + float64(y*w)
	return float64(x * (1 - u) * y)
}

// Sines replaces every phase in p by its Sine.
func Sines(p []float64) {
	n := whole(len(p))
	if n > 0 {
		sines4(&p[0], n)
	}
	for i := n; i < len(p); i++ {
		p[i] = Sine(p[i])
	}
}

// Tone returns sin(2 pi phase/2^64), its phase taken to 52 bits: the error is that
// of Sine. A phase that is a fraction of a cycle in 64 bits never loses one, so it
// does not drift.
func Tone(phase uint64) float64 {
	f := math.Float64frombits(phase>>12 | 1023<<52) // 1 to 2
	return sine(3 - float64(2*f))
}

// Tones sets dst to the Tone of every phase.
func Tones(dst []float64, phases []uint64) {
	phases = phases[:len(dst)]
	n := whole(len(dst))
	if n > 0 {
		tones4(&dst[0], &phases[0], n)
	}
	for i := n; i < len(dst); i++ {
		dst[i] = Tone(phases[i])
	}
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
	y := float64(exp10*f) + exp9
	y = float64(y*f) + exp8
	y = float64(y*f) + exp7
	y = float64(y*f) + exp6
	y = float64(y*f) + exp5
	y = float64(y*f) + exp4
	y = float64(y*f) + exp3
	y = float64(y*f) + exp2
	y = float64(y*f) + exp1
	y = float64(y*f) + 1
	return float64(y * math.Float64frombits(uint64(n+1023)<<52))
}

// Powers replaces every v by factor x 2^v.
func Powers(v []float64, factor float64) {
	n := whole(len(v))
	if n > 0 {
		powers4(&v[0], n, factor)
	}
	for i := n; i < len(v); i++ {
		v[i] = float64(factor * Exp2(v[i]))
	}
}
