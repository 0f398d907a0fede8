package scope

import "math"

// Levels are counted in steps of an eighth of a decibel from Floor on, up to 40 dBFS.
const (
	levelStep   = 0.125
	levelCounts = int((40 - Floor) / levelStep)
)

// NoiseFloor estimates the noise of the last Transform, taken at rate, between
// two frequencies: the level at which the bins would stand, in dBFS, if noise
// were all there is. Lines are passed over as long as they and their feet take
// up few of the bins: of 10 % filled ones the estimate rises by 0.7 dB. It
// returns Floor if there are no bins between.
//
// It is the median of the bins, raised to the mean: without averaging the power
// of a bin of noise is distributed exponentially, whose median is ln 2 (-1.59 dB) of
// the mean, and averaged over n independent spectra by the gamma distribution of
// order n. (Spectra that overlap are not independent: the true mean then lies up
// to 0.5 dB higher for the first few, and less and less as more are averaged.)
//
// Source: median of the gamma distribution, n - 1/3 + 8/(405 n) + 184/(25515 n^2):
// Choi, Proc. AMS 121, 1994.
func (s *Spectrum) NoiseFloor(low, high, rate float64) float64 {
	perHz := float64(len(s.window)) / rate
	first := max(int(math.Ceil(low*perHz)), 1)
	last := min(int(math.Floor(high*perHz)), len(s.level)-2) // the ends have another distribution
	if first > last {
		return Floor
	}
	clear(s.counts[:])
	for _, db := range s.level[first : last+1] {
		s.counts[min(max(int((db-Floor)/levelStep), 0), levelCounts-1)]++
	}
	median := s.median(float64(last-first+1) / 2)
	if median < Floor+levelStep {
		return Floor
	}
	order := 1.0
	if s.average.spread > 0 {
		order = 1 / s.average.spread
	}
	mean := 1 - 1/(3*order) + 8/(405*order*order) + 184/(25515*order*order*order)
	return median - powerDB(mean)
}

// median returns the level below which half of the counted bins lie.
func (s *Spectrum) median(half float64) float64 {
	sum := 0.0
	for i, count := range s.counts {
		if next := sum + float64(count); next < half {
			sum = next
			continue
		}
		return Floor + levelStep*(float64(i)+(half-sum)/float64(count))
	}
	return Floor
}

// Density returns the density, in dBFS in a band 1 Hz wide (an RMS of 1 is 0), of
// noise whose bins stand at the given level.
func (s *Spectrum) Density(level, rate float64) float64 {
	// A line's level is that of its peak; noise is given as RMS.
	return level - 10*math.Log10(2*s.kind.NoiseBandwidth()*rate/float64(len(s.window)))
}
