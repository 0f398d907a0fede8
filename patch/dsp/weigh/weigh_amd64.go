package weigh

import "golang.org/x/sys/cpu"

// fours says whether the processor does four numbers at once, and the operating
// system keeps the registers for it.
var fours = cpu.X86.HasAVX

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
