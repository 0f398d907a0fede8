package scope

import "math"

// Cycle sets dst to one cycle of a periodic signal, averaged in phase over all
// whole cycles that lie in a view, and returns how many these are and how far
// the signal strays from its cycle: the RMS of the difference. period is in
// samples, not necessarily whole; the cycle begins at v.First, so give the place
// of a crossing. The signal is interpolated as At does; what is not periodic
// falls by the root of the number of cycles. With fewer than one whole cycle
// dst is 0.
func Cycle[S Sample](dst []float64, samples []S, v View, period float64) (cycles int, stray float64) {
	clear(dst)
	last := min(v.First+v.Length, float64(len(samples)-1))
	if !(period >= 2) || v.First < 0 || len(dst) == 0 {
		return 0, 0
	}
	if cycles = int((last - v.First) / period); cycles < 1 {
		return 0, 0
	}
	squares, square := 0.0, 0.0
	for k := range dst {
		sum := 0.0
		for c := range cycles {
			x := At(samples, v.First+(float64(c)+float64(k)/float64(len(dst)))*period)
			sum += x
			squares += float64(x * x)
		}
		dst[k] = sum / float64(cycles)
		square += float64(dst[k] * dst[k])
	}
	n := float64(len(dst))
	return cycles, math.Sqrt(max(0, squares/(n*float64(cycles))-square/n))
}
