package step

// fours says whether the processor adds four numbers at once (AVX), and the
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

// addFours adds a*r0 + b*r1 to dst, with the same roundings as addOnes.
//
//go:noescape
func addFours(dst, r0, r1 *[Points]float64, a, b float64)

func addRows(dst, r0, r1 *[Points]float64, a, b float64) {
	if fours {
		addFours(dst, r0, r1, a, b)
		return
	}
	addOnes(dst, r0, r1, a, b)
}
