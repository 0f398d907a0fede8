package oversample

// stage doubles and halves a rate.
type stage struct {
	w         taps
	up        ring // of what rises
	even, odd ring // of every other sample of what falls
}

// rise returns the two samples of the higher rate for one of the lower. The
// zeros that doubling puts between the samples meet either all weights at the
// sides or the middle one alone.
func (s *stage) rise(x float64) (first, second float64) {
	n := len(s.w)
	window := s.up.put(x, n)
	return 2 * dot(window, s.w), window[n/2-1]
}

// fall returns the sample of the lower rate for two of the higher.
func (s *stage) fall(first, second float64) float64 {
	n := len(s.w)
	late := s.odd.put(second, n)[n/2]
	return dot(s.even.put(first, n), s.w) + float64(0.5*late)
}

// ring keeps the last samples, twice, so that they lie in a row.
type ring struct {
	x  [4 * pairs1]float64
	at int
}

// put takes a sample and returns the last n, the newest one first.
func (r *ring) put(x float64, n int) []float64 {
	at := r.at - 1
	if at < 0 {
		at = n - 1
	}
	r.at = at
	r.x[at], r.x[at+n] = x, x
	return r.x[at : at+n]
}

// dot weighs x, which is as long as one of the three filters. Four sums run side
// by side; lengths that the compiler knows take half the time.
func dot(x []float64, w taps) float64 {
	switch len(w) {
	case 2 * pairs1:
		return dot1((*[2 * pairs1]float64)(x), (*[2 * pairs1]float64)(w))
	case 2 * pairs2:
		return dot2((*[2 * pairs2]float64)(x), (*[2 * pairs2]float64)(w))
	}
	return dot3((*[2 * pairs3]float64)(x), (*[2 * pairs3]float64)(w))
}

func dot1(x, w *[2 * pairs1]float64) float64 {
	var s0, s1, s2, s3 float64
	for i := 0; i < len(x); i += 4 {
		s0 += float64(x[i] * w[i])
		s1 += float64(x[i+1] * w[i+1])
		s2 += float64(x[i+2] * w[i+2])
		s3 += float64(x[i+3] * w[i+3])
	}
	return s0 + s1 + (s2 + s3)
}

func dot2(x, w *[2 * pairs2]float64) float64 {
	var s0, s1, s2, s3 float64
	for i := 0; i < len(x); i += 4 {
		s0 += float64(x[i] * w[i])
		s1 += float64(x[i+1] * w[i+1])
		s2 += float64(x[i+2] * w[i+2])
		s3 += float64(x[i+3] * w[i+3])
	}
	return s0 + s1 + (s2 + s3)
}

func dot3(x, w *[2 * pairs3]float64) float64 {
	var s0, s1, s2, s3 float64
	for i := 0; i < len(x); i += 4 {
		s0 += float64(x[i] * w[i])
		s1 += float64(x[i+1] * w[i+1])
		s2 += float64(x[i+2] * w[i+2])
		s3 += float64(x[i+3] * w[i+3])
	}
	return s0 + s1 + (s2 + s3)
}
