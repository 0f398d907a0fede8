// Package weigh adds up samples times weights: the sums that filters of finite
// length and interpolation are made of.
//
//	x, w -> x[0] w[0] + x[1] w[1] + ...
//
// Eight sums run side by side, since each addition would wait for the one before.
// Where the processor can, it does four of them at once; the order and every
// rounding are the same, so the bits are too.
//
// Held by tests: the same bits on either path, and the sums of package math/big.
package weigh

// Sum returns the sum of x[i] w[i]. Both are equally long, a multiple of 4.
func Sum(x, w []float64) float64 {
	if len(x) != len(w) || len(x)%4 != 0 {
		panic("weigh: x and w must be equally long, a multiple of 4")
	}
	if len(x) == 0 {
		return 0
	}
	return sum(x, w)
}

// Between returns the sum of x[i] (a[i] + f (b[i] - a[i])): weighed by what lies f
// of the way from a to b. All are equally long, a multiple of 4.
func Between(x, a, b []float64, f float64) float64 {
	if len(x) != len(a) || len(x) != len(b) || len(x)%4 != 0 {
		panic("weigh: x, a and b must be equally long, a multiple of 4")
	}
	if len(x) == 0 {
		return 0
	}
	return between(x, a, b, f)
}

// sums are eight sums side by side.
type sums struct{ s0, s1, s2, s3, s4, s5, s6, s7 float64 }

// total adds them, in the order in which four at once are added.
func (s *sums) total() float64 {
	return (s.s0 + s.s4) + (s.s1 + s.s5) + ((s.s2 + s.s6) + (s.s3 + s.s7))
}

func sumOnes(x, w []float64) float64 {
	var s sums
	for len(x) >= 8 && len(w) >= 8 {
		s.s0 += float64(x[0] * w[0])
		s.s1 += float64(x[1] * w[1])
		s.s2 += float64(x[2] * w[2])
		s.s3 += float64(x[3] * w[3])
		s.s4 += float64(x[4] * w[4])
		s.s5 += float64(x[5] * w[5])
		s.s6 += float64(x[6] * w[6])
		s.s7 += float64(x[7] * w[7])
		x, w = x[8:], w[8:]
	}
	if len(x) >= 4 && len(w) >= 4 {
		s.s0 += float64(x[0] * w[0])
		s.s1 += float64(x[1] * w[1])
		s.s2 += float64(x[2] * w[2])
		s.s3 += float64(x[3] * w[3])
	}
	return s.total()
}

func betweenOnes(x, a, b []float64, f float64) float64 {
	var s sums
	for len(x) >= 8 && len(a) >= 8 && len(b) >= 8 {
		s.s0 += float64(x[0] * (a[0] + float64(f*(b[0]-a[0]))))
		s.s1 += float64(x[1] * (a[1] + float64(f*(b[1]-a[1]))))
		s.s2 += float64(x[2] * (a[2] + float64(f*(b[2]-a[2]))))
		s.s3 += float64(x[3] * (a[3] + float64(f*(b[3]-a[3]))))
		s.s4 += float64(x[4] * (a[4] + float64(f*(b[4]-a[4]))))
		s.s5 += float64(x[5] * (a[5] + float64(f*(b[5]-a[5]))))
		s.s6 += float64(x[6] * (a[6] + float64(f*(b[6]-a[6]))))
		s.s7 += float64(x[7] * (a[7] + float64(f*(b[7]-a[7]))))
		x, a, b = x[8:], a[8:], b[8:]
	}
	if len(x) >= 4 && len(a) >= 4 && len(b) >= 4 {
		s.s0 += float64(x[0] * (a[0] + float64(f*(b[0]-a[0]))))
		s.s1 += float64(x[1] * (a[1] + float64(f*(b[1]-a[1]))))
		s.s2 += float64(x[2] * (a[2] + float64(f*(b[2]-a[2]))))
		s.s3 += float64(x[3] * (a[3] + float64(f*(b[3]-a[3]))))
	}
	return s.total()
}
