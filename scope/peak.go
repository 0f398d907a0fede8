package scope

import "math"

// Peak is a line of a spectrum.
type Peak struct {
	Hz float64
	DB float64 // dBFS
}

// Peaks finds the strongest lines of the last Transform, taken at rate, that
// reach floor (dBFS). It fills dst from the strongest on and returns the part
// that it filled. A line closer to a stronger one than a main lobe is not seen.
//
// Where a line stands follows from how far its two neighbouring bins differ, and
// its level from how far the window then lets the highest bin fall: both by the
// window's own transform, so that a steady line that stands alone is read within
// 0.001 bin and 0.001 dB; with the rectangular and the Hamming window, whose feet
// reach far, within 0.01 of both from bin 100 on.
func (s *Spectrum) Peaks(dst []Peak, rate, floor float64) []Peak {
	found, most := dst[:0], len(dst)
	for i := 1; i < len(s.level)-1; i++ {
		if s.level[i] < floor || s.level[i] < s.level[i-1] || s.level[i] <= s.level[i+1] || !s.highest(i) {
			continue
		}
		away := s.kind.offset(s.level[i-1], s.level[i], s.level[i+1])
		peak := Peak{s.Hz(float64(i)+away, rate), s.level[i] - DB(s.kind.fall(away))}
		found = insert(found, most, peak)
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

// Fall is how much of a line's amplitude a bin shows that is away bins from it, 0
// to 1. Half a bin away it is the scallop loss of Harris 1978, table I: 0.849
// (-1.42 dB) of the Hann window.
func (w Window) Fall(away float64) float64 { return w.fall(away) }

// fall is how much of a line's amplitude is left in a bin away bins from it.
//
// The transform of the sum of cosines, for many samples (exact to the square of
// away/n):
//
//	sin(pi d)/pi  sum over k of (-1)^k a[k] d/(d^2 - k^2)
//
// Source: Harris, Proc. IEEE 66(1), 1978, eq. 12 with the kernel of eq. 10 for
// great N.
func (w Window) fall(away float64) float64 {
	terms := windows[w].terms
	nearest := math.Round(away)
	if math.Abs(away-nearest) < 1e-9 { // one term is all, and divides by nothing
		switch k := int(math.Abs(nearest)); {
		case k == 0:
			return 1
		case k < len(terms):
			return math.Abs(terms[k]) / (2 * terms[0])
		}
		return 0
	}
	sum, sign := 0.0, 1.0
	for k, a := range terms {
		sum += sign * a * away / (away*away - float64(k*k))
		sign = -sign
	}
	return math.Abs(math.Sin(math.Pi*away) / math.Pi * sum / terms[0])
}

// offset returns how far above its highest bin a line lies, in bins, -0.5 to 0.5,
// from the levels of that bin and its neighbours in dB.
func (w Window) offset(before, at, after float64) float64 {
	if w == Rectangular { // on a bin both neighbours are 0: take the higher with the highest
		ratio := math.Pow(10, (max(before, after)-at)/20)
		return math.Copysign(ratio/(1+ratio), after-before)
	}
	// The neighbours stand 1+d and 1-d from the line: their ratio tells d.
	ratio := math.Pow(10, (after-before)/20)
	miss := func(d float64) float64 { return float64(w.fall(1-d)) - float64(ratio*w.fall(1+d)) }
	low, high := -0.55, 0.55
	atLow, atHigh := miss(low), miss(high)
	if atLow >= 0 || atHigh <= 0 { // no single line: what the parabola says is as good
		return min(max((after-before)/(4*at-2*before-2*after), -0.5), 0.5)
	}
	return zero(miss, low, high, atLow, atHigh)
}

// zero finds where f goes through 0 between low and high, by false position with
// the retained end halved. Source: Dowell and Jarratt, BIT 11, 1971 (Illinois).
func zero(f func(float64) float64, low, high, atLow, atHigh float64) float64 {
	for range 30 {
		middle := high - atHigh*(high-low)/(atHigh-atLow)
		at := f(middle)
		if math.Abs(at) < 1e-13 {
			return middle
		}
		if at*atHigh < 0 {
			low, atLow = high, atHigh
		} else {
			atLow /= 2
		}
		high, atHigh = middle, at
	}
	return high
}
