package meter

import "golang.org/x/sys/cpu"

// eights says whether the processor does eight numbers at once, and the operating
// system keeps the registers for it.
var eights = cpu.X86.HasAVX

// slideEights is slideOnes for n results, a multiple of 32 over 0.
//
//go:noescape
func slideEights(dst, x, w *float32, n, taps int) float32

func slide(dst, x, w []float32) float32 {
	n := len(dst) &^ 31
	if !eights || n == 0 {
		return slideOnes(dst, x, w)
	}
	_ = x[n+len(w)-2] // the last sample that is read
	largest := slideEights(&dst[0], &x[0], &w[0], n, len(w))
	return max(largest, slideOnes(dst[n:], x[n:], w))
}
