package scope

import "math"

// Axis is the frequency axis of a picture, from its left edge to its right.
type Axis struct {
	Low, High   float64 // Hz; Low < High, and Low > 0 on a logarithmic axis
	Logarithmic bool    // equal ratios are equally far apart
}

// At returns the frequency at a fraction of the axis, 0 left and 1 right, in Hz.
func (a Axis) At(fraction float64) float64 {
	if a.Logarithmic {
		return a.Low * math.Pow(a.High/a.Low, fraction)
	}
	return a.Low + fraction*(a.High-a.Low)
}

// Fraction returns where a frequency stands on the axis; it undoes At.
func (a Axis) Fraction(hz float64) float64 {
	if a.Logarithmic {
		return math.Log(hz/a.Low) / math.Log(a.High/a.Low)
	}
	return (hz - a.Low) / (a.High - a.Low)
}

// Columns reduces the levels of the last Transform, taken at rate, to the
// columns of dst, in dBFS, and returns dst: the highest bin in each column, or,
// where bins are further apart than columns, the level between two bins.
// Columns above half the rate are at Floor.
func (s *Spectrum) Columns(dst []float64, rate float64, a Axis) []float64 {
	n := float64(len(s.window))
	left := a.At(0) / rate * n
	for c := range dst {
		right := a.At(float64(c+1)/float64(len(dst))) / rate * n
		dst[c] = s.column(left, right)
		left = right
	}
	return dst
}

// column returns the highest level from bin left to bin right (places between
// bins).
func (s *Spectrum) column(left, right float64) float64 {
	first, after := int(math.Ceil(left)), int(math.Ceil(right))
	first, after = max(first, 0), min(after, len(s.level))
	if first < after {
		highest := s.level[first]
		for _, v := range s.level[first+1 : after] {
			highest = max(highest, v)
		}
		return highest
	}
	middle := max(0, (left+right)/2)
	i := int(middle)
	if i+1 >= len(s.level) {
		return Floor
	}
	return s.level[i] + (middle-float64(i))*(s.level[i+1]-s.level[i])
}

// Peak is a line of a spectrum.
type Peak struct {
	Hz float64
	DB float64 // dBFS
}

// Peaks finds the strongest lines of the last Transform, taken at rate, that
// reach floor (dBFS). It fills dst from the strongest on and returns the part
// that it filled. Frequency and level lie on the parabola through the three
// highest bins, in dB; a line closer to a stronger one than a main lobe is not
// seen.
//
// Source: Smith and Serra, PARSHL, ICMC 1987.
func (s *Spectrum) Peaks(dst []Peak, rate, floor float64) []Peak {
	found := dst[:0]
	for i := 1; i < len(s.level)-1; i++ {
		if s.level[i] < floor || !s.highest(i) {
			continue
		}
		a, b, c := s.level[i-1], s.level[i], s.level[i+1]
		shift := 0.0
		if curve := a - 2*b + c; curve < 0 {
			shift = (a - c) / (2 * curve)
		}
		peak := Peak{(float64(i) + shift) * rate / float64(len(s.window)), b - (a-c)*shift/4}
		found = insert(found, cap(dst[:len(dst):len(dst)]), peak)
	}
	return found
}

// highest reports whether no bin within a main lobe is higher than bin i.
func (s *Spectrum) highest(i int) bool {
	for k := 1; k <= s.kind.Lobe(); k++ {
		if i-k >= 0 && s.level[i-k] > s.level[i] || i+k < len(s.level) && s.level[i+k] >= s.level[i] {
			return false
		}
	}
	return true
}

// insert puts a peak where it belongs among at most most peaks.
func insert(peaks []Peak, most int, p Peak) []Peak {
	if len(peaks) < most {
		peaks = append(peaks, p)
	} else if most == 0 || peaks[most-1].DB >= p.DB {
		return peaks
	}
	at := len(peaks) - 1
	for ; at > 0 && peaks[at-1].DB < p.DB; at-- {
		peaks[at] = peaks[at-1]
	}
	peaks[at] = p
	return peaks
}
