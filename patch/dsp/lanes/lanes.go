// Package lanes does the same to many samples, four at a time where the processor
// can.
//
//	slices in -> the plain loop, or four samples at once -> the same bits
//
// It holds what the engine and the kinds do to whole blocks: filling, adding,
// multiplying, limiting, sine and power of two. Every product and every sum is
// rounded by itself, as in the plain loop beside it, so a take is proved on any
// processor; a test compares the two bit by bit. It knows no module and no rate.
//
// Slices handed over together must be as long as the first; they may be the same
// slice, but not overlap otherwise.
package lanes

import "math"

// Fours says whether samples are computed four at a time here.
func Fours() bool { return fours }

// whole is how many of n samples are computed four at a time.
func whole(n int) int {
	if fours {
		return n &^ 3
	}
	return 0
}

// Fill sets every sample to x.
func Fill(dst []float64, x float64) {
	n := whole(len(dst))
	if n > 0 {
		fill4(&dst[0], n, x)
	}
	for i := n; i < len(dst); i++ {
		dst[i] = x
	}
}

// Same reports whether all samples are equal. What is no number equals nothing.
func Same(x []float64) bool {
	n := whole(len(x))
	if n > 0 && !same4(&x[0], n) {
		return false
	}
	for i := n; i < len(x); i++ {
		if x[i] != x[0] {
			return false
		}
	}
	return true
}

// Within reports whether every sample is a number of -most to most.
func Within(x []float64, most float64) bool {
	n := whole(len(x))
	if n > 0 && !within4(&x[0], n, most) {
		return false
	}
	for i := n; i < len(x); i++ {
		if !(math.Abs(x[i]) <= most) {
			return false
		}
	}
	return true
}

// Add sets dst to a + b.
func Add(dst, a, b []float64) {
	a, b = a[:len(dst)], b[:len(dst)]
	n := whole(len(dst))
	if n > 0 {
		add4(&dst[0], &a[0], &b[0], n)
	}
	for i := n; i < len(dst); i++ {
		dst[i] = a[i] + b[i]
	}
}

// Multiply sets dst to a x b.
func Multiply(dst, a, b []float64) {
	a, b = a[:len(dst)], b[:len(dst)]
	n := whole(len(dst))
	if n > 0 {
		multiply4(&dst[0], &a[0], &b[0], n)
	}
	for i := n; i < len(dst); i++ {
		dst[i] = float64(a[i] * b[i])
	}
}

// Scale sets dst to src x factor.
func Scale(dst, src []float64, factor float64) {
	src = src[:len(dst)]
	n := whole(len(dst))
	if n > 0 {
		scale4(&dst[0], &src[0], n, factor)
	}
	for i := n; i < len(dst); i++ {
		dst[i] = float64(src[i] * factor)
	}
}

// AddScaled adds src x factor to dst.
func AddScaled(dst, src []float64, factor float64) {
	src = src[:len(dst)]
	n := whole(len(dst))
	if n > 0 {
		addScaled4(&dst[0], &src[0], n, factor)
	}
	for i := n; i < len(dst); i++ {
		dst[i] += float64(src[i] * factor)
	}
}

// AddProduct adds a x b to dst.
func AddProduct(dst, a, b []float64) {
	a, b = a[:len(dst)], b[:len(dst)]
	n := whole(len(dst))
	if n > 0 {
		addProduct4(&dst[0], &a[0], &b[0], n)
	}
	for i := n; i < len(dst); i++ {
		dst[i] += float64(a[i] * b[i])
	}
}

// Swing multiplies dst by rest + src x depth.
func Swing(dst, src []float64, rest, depth float64) {
	src = src[:len(dst)]
	n := whole(len(dst))
	if n > 0 {
		swing4(&dst[0], &src[0], n, rest, depth)
	}
	for i := n; i < len(dst); i++ {
		dst[i] = float64(dst[i] * (rest + float64(src[i]*depth)))
	}
}

// Reach is where samples have been, and whether any lay outside of what they were
// clamped to.
type Reach struct {
	Least, Most float64
	Under, Over bool
}

// Clamp holds v within lo to hi; what is no number becomes lo. It widens r by
// where v then is.
func Clamp(v []float64, lo, hi float64, r *Reach) {
	n := whole(len(v))
	if n > 0 {
		var at [8]float64 // least and most, in every lane
		outside := clamp4(&v[0], n, lo, hi, &at)
		for k := range 4 {
			r.Least, r.Most = min(r.Least, at[k]), max(r.Most, at[4+k])
		}
		r.Under = r.Under || outside&1 != 0
		r.Over = r.Over || outside&2 != 0
	}
	for i := n; i < len(v); i++ {
		x := v[i]
		if !(x >= lo) { // also when x is no number
			x, r.Under = lo, true
		} else if x > hi {
			x, r.Over = hi, true
		}
		v[i] = x
		if x < r.Least {
			r.Least = x
		}
		if x > r.Most {
			r.Most = x
		}
	}
}

// Above sets dst to src where it is at least 2 floor, and elsewhere to the straight
// line from there to 0 at floor, and to 0 below.
func Above(dst, src []float64, floor float64) {
	src = src[:len(dst)]
	n := whole(len(dst))
	if n > 0 {
		above4(&dst[0], &src[0], n, floor)
	}
	for i := n; i < len(dst); i++ {
		if v := src[i]; v >= 2*floor {
			dst[i] = v
		} else {
			dst[i] = max(2*(v-floor), 0)
		}
	}
}
