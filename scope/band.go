package scope

import (
	"math"
	"strconv"
)

// Band is a third-octave band, counted from the one at 1 kHz: -16 is 25 Hz, 13 is
// 20 kHz.
//
// Source: IEC 61260-1:2014, base-ten system: exact mid-band frequencies
// 1000 x 10^(n/10) Hz, edges at 10^(+-1/20) of them, nominal names of annex E.
type Band int

// The bands of hearing.
const (
	Band25Hz  Band = -16
	Band1kHz  Band = 0
	Band20kHz Band = 13
	// Bands is how many there are from 25 Hz to 20 kHz.
	Bands = int(Band20kHz-Band25Hz) + 1
)

// Mid returns the exact mid-band frequency in Hz.
func (b Band) Mid() float64 { return 1000 * math.Pow(10, float64(b)/10) }

// Edges returns the lower and upper band-edge frequency in Hz.
func (b Band) Edges() (low, high float64) {
	return 1000 * math.Pow(10, (float64(b)-0.5)/10), 1000 * math.Pow(10, (float64(b)+0.5)/10)
}

// nominals are the nominal mid-band frequencies of a decade, re its first.
var nominals = [10]float64{1, 1.25, 1.6, 2, 2.5, 3.15, 4, 5, 6.3, 8}

// Nominal returns the nominal mid-band frequency in Hz: 31.5, 1000, 1250.
func (b Band) Nominal() float64 {
	decade := int(math.Floor(float64(b) / 10))
	hz := nominals[int(b)-10*decade] * math.Pow(10, float64(decade+3))
	return math.Round(hz*1000) / 1000
}

// String returns the nominal name, as 31.5 Hz or 1.25 kHz.
func (b Band) String() string {
	if hz := b.Nominal(); hz < 1000 {
		return strconv.FormatFloat(hz, 'g', -1, 64) + " Hz"
	}
	return strconv.FormatFloat(b.Nominal()/1000, 'g', -1, 64) + " kHz"
}

// ThirdOctaves fills dst with the levels of third-octave bands from first on, of
// the last Transform, taken at rate, and returns dst: in dBFS, a sine in the
// band's middle reads as its line does. The powers of the bins are added, a bin
// across an edge with the part of it that lies inside, and divided by the
// window's noise bandwidth, so that noise reads its true power (3.01 dB more than
// its RMS, as a sine does). Bands above half the rate are at Floor.
//
// The bands have upright sides, unlike filters, but a line's foot still reaches
// into neighbours that are narrower than it; see Resolved.
func (s *Spectrum) ThirdOctaves(dst []float64, rate float64, first Band) []float64 {
	perHz := float64(len(s.window)) / rate
	narrow := s.kind.NoiseBandwidth()
	for i := range dst {
		low, high := (first + Band(i)).Edges()
		dst[i] = powerDB(s.powerBetween(low*perHz, high*perHz) / narrow)
	}
	return dst
}

// powerBetween adds the powers from one place to another, in bins; bin i reaches
// from i-0.5 to i+0.5.
func (s *Spectrum) powerBetween(low, high float64) float64 {
	low, high = low+0.5, min(high+0.5, float64(len(s.power)))
	if low >= high {
		return 0
	}
	first, last := int(low), int(math.Ceil(high))-1
	if first == last {
		return s.power[first] * (high - low)
	}
	sum := s.power[first]*(float64(first+1)-low) + s.power[last]*(high-float64(last))
	for _, p := range s.power[first+1 : last] {
		sum += p
	}
	return sum
}

// Resolved reports whether a band is at least as wide as the main lobe of a
// line, so that a line in its middle is read in this band alone.
func (s *Spectrum) Resolved(b Band, rate float64) bool {
	low, high := b.Edges()
	return (high-low)/rate*float64(len(s.window)) >= float64(2*s.kind.Lobe())
}
