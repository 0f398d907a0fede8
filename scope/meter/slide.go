package meter

// slideOnes lays the weights w over x, one sample further for every result:
//
//	dst[i] = x[i] w[0] + x[i+1] w[1] + ...
//
// and returns the largest magnitude of dst. Slide does the same, faster where
// the processor can; the bits are the same. x has len(dst)+len(w)-1 samples.
func slideOnes(dst, x, w []float32) (largest float32) {
	for i := range dst {
		sum := float32(0)
		under := x[i:]
		under = under[:len(w)]
		for k, weight := range w {
			sum += float32(under[k] * weight)
		}
		dst[i] = sum
		largest = max(largest, abs32(sum))
	}
	return largest
}
