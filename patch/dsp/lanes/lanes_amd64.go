package lanes

//lint:file-ignore U1000 the constants are named by the assembly alone

import "golang.org/x/sys/cpu"

// fours says whether the processor does four numbers at once, and the operating
// system keeps the registers for it.
var fours = cpu.X86.HasAVX2

// The constants that the assembly reads, in every lane.
var (
	consts = lanesOf(1, 0.5, 2, 1<<52, 1022.5, 1022, -1022, 1023, 3)
	sinTab = lanesOf(sin0, sin1, sin2, sin3, sin4, sin5, sin6, sin7, sin8)
	expTab = lanesOf(exp10, exp9, exp8, exp7, exp6, exp5, exp4, exp3, exp2, exp1)
)

func lanesOf(values ...float64) (t [10][4]float64) {
	for i, v := range values {
		t[i] = [4]float64{v, v, v, v}
	}
	return t
}

// In all of these n is a multiple of 4, and more than 0.

//go:noescape
func fill4(dst *float64, n int, x float64)

//go:noescape
func same4(x *float64, n int) bool

//go:noescape
func within4(x *float64, n int, most float64) bool

//go:noescape
func add4(dst, a, b *float64, n int)

//go:noescape
func multiply4(dst, a, b *float64, n int)

//go:noescape
func addProduct4(dst, a, b *float64, n int)

//go:noescape
func scale4(dst, src *float64, n int, factor float64)

//go:noescape
func addScaled4(dst, src *float64, n int, factor float64)

//go:noescape
func swing4(dst, src *float64, n int, rest, depth float64)

// clamp4 leaves the least and the most of every lane in at; of what it returns, 1
// says that some were below lo or no number, and 2 that some were above hi.
//
//go:noescape
func clamp4(v *float64, n int, lo, hi float64, at *[8]float64) (outside uint64)

//go:noescape
func above4(dst, src *float64, n int, floor float64)

//go:noescape
func sines4(p *float64, n int)

//go:noescape
func tones4(dst *float64, phases *uint64, n int)

//go:noescape
func powers4(v *float64, n int, factor float64)
