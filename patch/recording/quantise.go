package recording

import (
	"fmt"
	"math"
	"slices"

	"lampblack/patch/dsp/lanes"
)

// quantise24 rounds samples to 24-bit steps, halves to even, limited to what 24
// bits hold.
func quantise24(samples []float64) []int32 {
	steps := make([]int32, len(samples))
	for i, x := range samples {
		steps[i] = step24(x)
	}
	return steps
}

func step24(x float64) int32 {
	return int32(min(max(math.RoundToEven(x*(1<<23)), -1<<23), 1<<23-1))
}

// Clipped returns how many samples lie beyond full scale, so that a file of
// whole numbers (16 or 24 bits) limits them. Exactly +1.0, which comes out one
// step low, is not counted: a full-scale sine is not clipped.
func Clipped(channels [][]float64) int {
	n := 0
	for _, samples := range channels {
		for _, x := range samples {
			if x > 1 || x < -1 {
				n++
			}
		}
	}
	return n
}

// checkSamples says what is wrong with samples that are to be written.
func checkSamples(channels [][]float64, rate int) error {
	switch {
	case len(channels) < 1 || len(channels) > 2:
		return fmt.Errorf("there are %d channels; a file may have 1 or 2", len(channels))
	case rate < MinRate || rate > MaxRate:
		return fmt.Errorf("the rate is %d Hz; it must be %d to %d Hz", rate, MinRate, MaxRate)
	case len(channels[0]) == 0:
		return fmt.Errorf("there are no samples; a file needs at least one")
	case len(channels) == 2 && len(channels[0]) != len(channels[1]):
		return fmt.Errorf("left has %d samples and right %d; they must be equal in number", len(channels[0]), len(channels[1]))
	}
	for c, samples := range channels {
		if i := notFinite(samples); i >= 0 {
			return fmt.Errorf("sample %d of channel %d is %g; samples must be finite numbers", i, c+1, samples[i])
		}
	}
	return nil
}

// notFinite returns the number of the first sample that is no finite number, or -1.
func notFinite(samples []float64) int {
	if lanes.Within(samples, math.MaxFloat64) {
		return -1
	}
	return slices.IndexFunc(samples, func(x float64) bool { return math.IsNaN(x) || math.IsInf(x, 0) })
}
