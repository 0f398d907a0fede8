package quantiser

import (
	"math"
	"slices"
)

// scale is the degrees of one octave, and with it of all of them: degree number
// g is degree g mod n, g div n octaves up. It is never written to once made.
type scale struct {
	n        int
	interval [mostDegrees]float64 // rising, 0 to 1 octave, 1 excluded
}

// newScale sorts the rows and drops what stands there twice.
func newScale(rows [][]float64) *scale {
	var list []float64
	for _, r := range rows {
		list = append(list, r[0]-math.Floor(r[0]))
	}
	slices.Sort(list)
	list = slices.Compact(list)
	s := &scale{n: min(len(list), mostDegrees)}
	copy(s.interval[:], list)
	return s
}

// pitch is where degree g stands, in octaves above the root.
func (s *scale) pitch(g int) float64 {
	octave := g / s.n
	i := g - octave*s.n
	if i < 0 {
		octave, i = octave-1, i+s.n
	}
	return float64(octave) + s.interval[i]
}

// nearest returns the degree nearest to u octaves above the root; of two equally
// near ones the lower.
func (s *scale) nearest(u float64) int {
	octave := math.Floor(u)
	part := u - octave
	low, high := 0, s.n // the first degree above part lies between them
	for low < high {
		middle := (low + high) / 2
		if s.interval[middle] <= part {
			low = middle + 1
		} else {
			high = middle
		}
	}
	below := int(octave)*s.n + low - 1
	if s.pitch(below+1)-u < u-s.pitch(below) {
		return below + 1
	}
	return below
}
