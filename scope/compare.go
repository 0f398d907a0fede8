package scope

// Hold keeps the highest level of each bin, column or band of what is shown again
// and again. The zero value is ready; it allocates only when there are more
// levels than before.
type Hold struct{ levels []float64 }

// Take lets the held levels fall by so many dB, raises those that are exceeded by
// levels, and returns them, valid until the next call. A fall of 0 holds for
// ever: for one of f dB a second give f times the seconds since the last call.
func (h *Hold) Take(levels []float64, fall float64) []float64 {
	if len(h.levels) != len(levels) {
		h.levels = append(h.levels[:0], levels...)
		return h.levels
	}
	for i, db := range levels {
		h.levels[i] = max(db, h.levels[i]-fall, Floor)
	}
	return h.levels
}

// Reset forgets what was held.
func (h *Hold) Reset() { h.levels = h.levels[:0] }

// Difference sets dst to how far the levels b lie above a, in dB, and returns
// it: of spectra, columns or bands of the same length. Where both lie below
// least (dBFS), the difference is 0: that of two noises tells nothing. dst may be
// a or b.
func Difference(dst, a, b []float64, least float64) []float64 {
	for i := range dst {
		dst[i] = max(b[i], least) - max(a[i], least)
	}
	return dst
}
