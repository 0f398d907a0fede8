package engine

import "math"

// The bits of the largest value allowed, the sign shifted out.
var (
	maxSignalBits = math.Float64bits(MaxSignal) << 1
	maxOutputBits = math.Float64bits(MaxOutput) << 1
)

// beyond reports whether any sample is not a number or larger than the value
// whose bits, shifted by one, are most. The bits of a float64 without its sign
// rise with its size, infinity and NaN at the top, so one whole-number comparison
// a sample tells; four at a time, for none has to wait for another.
func beyond(x []float64, most uint64) bool {
	var a, b, c, d uint64
	for len(x) >= 4 {
		a = max(a, math.Float64bits(x[0])<<1)
		b = max(b, math.Float64bits(x[1])<<1)
		c = max(c, math.Float64bits(x[2])<<1)
		d = max(d, math.Float64bits(x[3])<<1)
		x = x[4:]
	}
	for _, v := range x {
		a = max(a, math.Float64bits(v)<<1)
	}
	return max(a, b, c, d) > most
}

// limit replaces what is not finite by 0, and cuts off what is beyond most.
func limit(x []float64, most float64) {
	for i, v := range x {
		switch {
		case math.IsNaN(v) || math.IsInf(v, 0):
			x[i] = 0
		case v > most:
			x[i] = most
		case v < -most:
			x[i] = -most
		}
	}
}
