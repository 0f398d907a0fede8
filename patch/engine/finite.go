package engine

import (
	"math"

	"lampblack/patch/dsp/lanes"
)

// beyond reports whether any sample is not a number or larger than most.
func beyond(x []float64, most float64) bool { return !lanes.Within(x, most) }

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
