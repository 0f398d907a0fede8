package meter

// eights says whether the processor does eight numbers at once (AVX), and the
// operating system keeps the registers for it. Source of the bits: Intel,
// Software developer's manual, volume 1, 14.3 (from memory).
var eights = func() bool {
	const both = 1<<27 | 1<<28 // OSXSAVE and AVX
	return cpuid(1)&both == both && xgetbv()&6 == 6
}()

// cpuid returns register C of that leaf.
func cpuid(leaf uint32) (c uint32)

// xgetbv returns the low half of extended control register 0.
func xgetbv() (a uint32)

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
