package oscillator

import "math"

// FineFactor returns how many times the sample rate a phase-modulated sine must be
// computed at, so that what folds below 20 kHz is at least 120 dB under the
// unmodulated carrier: 1, 2, 4 or 8; 8 also where that is not enough. carrier and
// modulator are in Hz, the index in radians, the rate in samples a second; their
// signs do not matter.
//
// A line of order n lies at carrier + n modulator and is as strong as Jn(index). It
// folds to where it is heard if it lies above factor*rate - 20 kHz. Orders above
//
//	index + 4 + 4.6 cube root of index
//
// are below 1e-6 for all indices up to 126 (7200 degrees), by computation; that the
// margin grows with the cube root is Abramowitz and Stegun, 9.3.23 (from memory). For an index of
// 10 it is 14 orders, for 20 it is 16.5.
func FineFactor(carrier, modulator, index, rate float64) int {
	index = math.Abs(index)
	top := math.Abs(carrier)
	if index > 0 {
		top += float64((index + 4 + float64(4.6*math.Cbrt(index))) * math.Abs(modulator))
	}
	for factor := 1; factor < 8; factor *= 2 {
		if float64(float64(factor)*rate)-20000 > top {
			return factor
		}
	}
	return 8
}
