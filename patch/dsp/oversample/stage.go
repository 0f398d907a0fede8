package oversample

import "lampblack/patch/dsp/weigh"

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
	return 2 * sum(window, s.w), window[n/2-1]
}

// fall returns the sample of the lower rate for two of the higher.
func (s *stage) fall(first, second float64) float64 {
	n := len(s.w)
	late := s.odd.put(second, n)[n/2]
	return sum(s.even.put(first, n), s.w) + float64(0.5*late)
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

// sum weighs x. The first samples have just been written one by one; read four at
// once, they would have to wait until these writes are through to the cache. The
// shortest filter runs so often that all of it would have to.
func sum(x []float64, w taps) float64 {
	if len(w) == 2*pairs3 {
		return sum3((*[2 * pairs3]float64)(x), (*[2 * pairs3]float64)(w))
	}
	_, _ = x[3], w[3]
	return float64(x[0]*w[0]) + float64(x[1]*w[1]) + (float64(x[2]*w[2]) + float64(x[3]*w[3])) + weigh.Sum(x[4:], w[4:])
}

func sum3(x, w *[2 * pairs3]float64) float64 {
	var s0, s1, s2, s3 float64
	for i := 0; i < len(x); i += 4 {
		s0 += float64(x[i] * w[i])
		s1 += float64(x[i+1] * w[i+1])
		s2 += float64(x[i+2] * w[i+2])
		s3 += float64(x[i+3] * w[i+3])
	}
	return s0 + s1 + (s2 + s3)
}
