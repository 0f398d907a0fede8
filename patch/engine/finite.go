package engine

import "math"

// maxBits are the bits of MaxSignal, the sign shifted out.
var maxBits = math.Float64bits(MaxSignal) << 1

// beyond reports whether any sample is beyond MaxSignal or not a number. The
// bits of a float64 without its sign rise with its size, infinity and NaN at the
// top, so one whole-number comparison a sample tells.
func beyond(x []float64) bool {
	var most uint64
	for _, v := range x {
		most = max(most, math.Float64bits(v)<<1)
	}
	return most > maxBits
}

// limit replaces what is not finite by 0, and cuts off what is beyond MaxSignal.
func limit(x []float64) {
	for i, v := range x {
		switch {
		case math.IsNaN(v) || math.IsInf(v, 0):
			x[i] = 0
		case v > MaxSignal:
			x[i] = MaxSignal
		case v < -MaxSignal:
			x[i] = -MaxSignal
		}
	}
}
