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
	left := a.Low / rate * n
	ratio := math.Pow(a.High/a.Low, 1/float64(len(dst)))
	for c := range dst {
		right := left * ratio // a power for each column would be most of the work
		if !a.Logarithmic {
			right = a.At(float64(c+1)/float64(len(dst))) / rate * n
		}
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
