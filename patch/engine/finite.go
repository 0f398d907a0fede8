package engine

import "math"

// beyond reports whether any sample is not a number or larger than most. As long
// as the sum of all squares is no larger than the square of most, none can be;
// that is told fastest, since four sums at a time wait for nothing.
func beyond(x []float64, most float64) bool {
	var a, b, c, d float64
	rest := x
	for ; len(rest) >= 4; rest = rest[4:] {
		a += float64(rest[0] * rest[0])
		b += float64(rest[1] * rest[1])
		c += float64(rest[2] * rest[2])
		d += float64(rest[3] * rest[3])
	}
	for _, v := range rest {
		a += float64(v * v)
	}
	if a+b+c+d <= float64(most*most) { // not so if any is no number
		return false
	}
	for _, v := range x {
		if !(math.Abs(v) <= most) {
			return true
		}
	}
	return false
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
