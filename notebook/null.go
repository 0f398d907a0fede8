package notebook

import (
	"math"

	"lampblack/scope"
)

// subtract compares a render, rounded to 24 bits, with an audition. It returns
// the depth of the null (see scope.NullDB) over all channels, and the first
// sample that differs, or -1. Where one of the two is shorter or has fewer
// channels, it counts as silent.
func subtract(sound, audition [][]float64) (db float64, first int) {
	channels, length := max(len(sound), len(audition)), 0
	for _, c := range append(sound[:len(sound):len(sound)], audition...) {
		length = max(length, len(c))
	}
	a, b := interleave(sound, channels, length), interleave(audition, channels, length)
	first = -1
	for i, x := range a {
		a[i] = round24(x)
		if a[i] != b[i] && first < 0 {
			first = i / channels
		}
	}
	return scope.NullDB(b, a), first
}

// interleave returns all channels as one signal, of that many channels and that length.
func interleave(signal [][]float64, channels, length int) []float64 {
	all := make([]float64, channels*length)
	for c, samples := range signal {
		for i, x := range samples {
			all[i*channels+c] = x
		}
	}
	return all
}

// round24 rounds as recording.EncodeFLAC does: to steps of 2^-23, halves to
// even, limited to what 24 bits hold.
func round24(x float64) float64 {
	return min(max(math.RoundToEven(x*(1<<23)), -1<<23), 1<<23-1) / (1 << 23)
}
