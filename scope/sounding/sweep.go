package sounding

import (
	"math"
	"math/cmplx"

	"gonum.org/v1/gonum/dsp/fourier"
)

// Sweep is a sine whose frequency rises by equal ratios in equal times. In what a
// bent system answers, each harmonic is the same sweep, but begun earlier: taken
// apart, the harmonics lie one after the other before the answer of the straight
// part.
//
// Source: A. Farina, Simultaneous measurement of impulse response and distortion
// with a swept-sine technique, AES 108th Convention, 2000, preprint 5093. The
// division of spectra in place of his inverse filter is Müller and Massarani's,
// JAES 49(6), 2001.
type Sweep struct {
	Low, High float64   // Hz, at its start and its end
	Rate      float64   // samples a second
	Samples   []float64 // amplitude 1
}

// fadeSeconds is for how long a sweep fades in and out.
const fadeSeconds = 0.01

// NewSweep returns a sweep from low to high Hz.
func NewSweep(low, high, seconds, rate float64) *Sweep {
	s := &Sweep{Low: low, High: high, Rate: rate, Samples: make([]float64, int(seconds*rate))}
	k := math.Log(high/low) / seconds
	fade := fadeSeconds * rate
	for i := range s.Samples {
		t := float64(i) / rate
		v := math.Sin(2 * math.Pi * low / k * math.Expm1(k*t))
		if left := float64(len(s.Samples) - i); left < fade {
			v *= 0.5 - 0.5*math.Cos(math.Pi*left/fade)
		}
		s.Samples[i] = v
	}
	return s
}

// ahead is by how many samples the answer of harmonic n comes before that of the
// straight part.
func (s *Sweep) ahead(n int) float64 {
	return float64(len(s.Samples)) * math.Log(float64(n)) / math.Log(s.High/s.Low)
}

// Separate returns the answers of the straight part and of the harmonics 2 to
// orders, from what a system answers to the sweep times amplitude. Answers[n-1].At(n
// hz) is the amplitude of harmonic n for a sine of hz, over that of the sine.
// recorded begins with the sweep, and should go on until the answer has died away.
// Harmonics above half the rate are not told from what folds back.
func (s *Sweep) Separate(recorded []float64, amplitude float64, orders int) []Answer {
	n := 1
	for n < len(recorded)+len(s.Samples) {
		n *= 2
	}
	transform := fourier.NewFFT(n)
	sent := transform.Coefficients(nil, padded(s.Samples, 1, n))
	got := transform.Coefficients(nil, padded(recorded, 1/amplitude, n))
	most := 0.0
	for _, v := range sent {
		most = math.Max(most, cmplx.Abs(v))
	}
	for i, v := range sent {
		power := real(v)*real(v) + imag(v)*imag(v)
		// Beyond the ends of the sweep hardly anything was sent: there a division
		// would raise what a bent system adds by itself.
		least := 1e-24
		if hz := float64(i) / float64(n) * s.Rate; hz < s.Low || hz > s.High {
			least = 1e-7
		}
		got[i] = got[i] * cmplx.Conj(v) / complex(power+least*most*most, 0)
	}
	whole := transform.Sequence(nil, got)
	answers := make([]Answer, orders)
	for k := range answers {
		before := s.ahead(k + 1)
		from := int(-before - (s.ahead(k+2)-before)/2)
		to := len(recorded)
		if k > 0 {
			to = int(-before + (before-s.ahead(k))/2)
		}
		answers[k] = s.cut(whole, from, to, int(before+0.5))
	}
	return answers
}

// cut takes the samples from from to to, which count from the straight part's
// impulse, out of a circle, faded at both ends. The impulse of what is cut out
// comes before samples earlier; frequencies are told from there, so that a phase
// means something only for the straight part.
func (s *Sweep) cut(whole []float64, from, to, before int) Answer {
	n := len(whole)
	a := Answer{Rate: s.Rate, First: from + before, Samples: make([]float64, to-from)}
	fade := min(len(a.Samples)/16, int(fadeSeconds*s.Rate))
	for i := range a.Samples {
		v := whole[((from+i)%n+n)%n] / float64(n)
		if edge := min(i, len(a.Samples)-1-i); edge < fade {
			v *= 0.5 - 0.5*math.Cos(math.Pi*(float64(edge)+0.5)/float64(fade))
		}
		a.Samples[i] = v
	}
	return a
}

func padded(x []float64, by float64, n int) []float64 {
	all := make([]float64, n)
	for i, v := range x {
		all[i] = v * by
	}
	return all
}
