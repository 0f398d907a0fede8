package approx

// BesselI0 is the modified Bessel function of order 0, for the Kaiser window; x
// is 0 to 30, the relative error at most 1e-15. It sums the power series
// (Abramowitz and Stegun, 9.6.12), which takes tens of terms: not for every
// sample.
func BesselI0(x float64) float64 {
	q, term, sum := float64(x*x)/4, 1.0, 1.0
	for k := 1.0; term > 1e-17*sum; k++ {
		term = float64(term*q) / float64(k*k)
		sum += term
	}
	return sum
}
