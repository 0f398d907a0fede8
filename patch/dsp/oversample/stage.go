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
	return 2 * weigh.Sum(window, s.w), window[n/2-1]
}

// fall returns the sample of the lower rate for two of the higher.
func (s *stage) fall(first, second float64) float64 {
	n := len(s.w)
	late := s.odd.put(second, n)[n/2]
	return weigh.Sum(s.even.put(first, n), s.w) + float64(0.5*late)
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
