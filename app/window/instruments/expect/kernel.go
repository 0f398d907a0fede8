package expect

import "math"

// terms are the seven-term cosine window whose side lobes lie below -180 dB, so
// that no line reaches beyond its own main lobe.
//
// Source: Albrecht, A family of cosine-sum windows for high-resolution
// measurements, Proc. ICASSP 2001, table 1 (the figures from memory; a test holds
// the side lobes).
var terms = [...]float64{
	0.27105140069342, 0.43329793923448, 0.21812299954311, 0.06592544638803,
	0.01081174209837, 0.00077658482522, 0.00001388721735,
}

// lobe is half the width of the main lobe, in bins.
const lobe = len(terms)

// fill sets dst to the window.
func fill(dst []float64) {
	for i := range dst {
		sum := 0.0
		for k, a := range terms { // about the middle all terms count up
			sum += a * math.Cos(2*math.Pi*float64(k)*(float64(i)/float64(len(dst))-0.5))
		}
		dst[i] = sum
	}
}

// kernel is the transform of the window of n samples about its middle, d bins from
// a line, over that at the line.
//
// Source: Harris, Proc. IEEE 66(1), 1978, eq. 12; the sum of a cosine over n
// samples with both ends counted half is sin(pi d)/tan(pi d/n).
func kernel(d float64, n int) float64 {
	s := math.Sin(math.Pi * d)
	nearest := math.Round(d)
	if math.Abs(d-nearest) < 1e-7 { // one term is all, and divides by nothing
		switch k := int(math.Abs(nearest)); {
		case k == 0:
			return 1
		case k < len(terms):
			return terms[k] / 2 / terms[0]
		}
		return 0
	}
	sum, sign := 0.0, 1.0
	for k, a := range terms {
		sum += sign * a / 2 * (cot(math.Pi*(d-float64(k))/float64(n)) + cot(math.Pi*(d+float64(k))/float64(n)))
		sign = -sign
	}
	return s * sum / float64(n) / terms[0]
}

// cot is the cotangent of a small angle: of 0.5 within 1e-4, of 0.05 within 1e-10.
//
// Source: Abramowitz and Stegun, eq. 4.3.70.
func cot(x float64) float64 {
	square := x * x
	return 1/x - x*(1.0/3+square*(1.0/45+square*2/945))
}

// slope is the derivative of kernel, good enough to find the way by.
func slope(d float64, n int) float64 {
	const h = 1e-3
	return (kernel(d+h, n) - kernel(d-h, n)) / (2 * h)
}
