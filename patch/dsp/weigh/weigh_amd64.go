package weigh

// fours says whether the processor does four numbers at once (AVX), and the
// operating system keeps the registers for it. Source of the bits: Intel,
// Software developer's manual, volume 1, 14.3 (from memory).
var fours = func() bool {
	const both = 1<<27 | 1<<28 // OSXSAVE and AVX
	return cpuid(1)&both == both && xgetbv()&6 == 6
}()

// cpuid returns register C of that leaf.
func cpuid(leaf uint32) (c uint32)

// xgetbv returns the low half of extended control register 0.
func xgetbv() (a uint32)

// sumFours is sumOnes of n samples.
//
//go:noescape
func sumFours(x, w *float64, n int) float64

// betweenFours is betweenOnes of n samples.
//
//go:noescape
func betweenFours(x, a, b *float64, n int, f float64) float64

func sum(x, w []float64) float64 {
	if fours {
		return sumFours(&x[0], &w[0], len(x))
	}
	return sumOnes(x, w)
}

func between(x, a, b []float64, f float64) float64 {
	if fours {
		return betweenFours(&x[0], &a[0], &b[0], len(x), f)
	}
	return betweenOnes(x, a, b, f)
}
