// Package sounding tells what a system does to a signal from how it answers a
// test signal.
//
//	answer to an impulse  -> Answer.At: gain, phase and group delay at any frequency
//	answer to a sweep     -> Sweep.Separate: that of the straight part, and of each harmonic
//	level over frequency  -> Trace, Read: edges, bandwidth, Q, slope
//	answer to a gate      -> ReadShape: time to the top, time constants, sustain
//	a tone                -> Line: amplitude and phase of one harmonic
//
// It takes slices of numbers; it knows no patch and runs no sound. Held by tests
// against the bilinear transform of scipy, first-order circuit theory and the
// Fourier series of the handbooks.
package sounding

import (
	"math"
	"math/cmplx"

	"gonum.org/v1/gonum/dsp/fourier"
)

// Answer is what a system gives for an impulse of 1.
type Answer struct {
	Samples []float64
	Rate    float64 // samples a second
	First   int     // when Samples[0] comes, in samples after the impulse; below 0: before
}

// resync is after how many samples a turning phase is computed anew: products
// of rounded numbers drift.
const resync = 256

// At returns the gain at a frequency of 0 to Rate/2 Hz, and by how many seconds
// the system delays a narrow band around it (its group delay; NaN where nothing
// comes through).
//
// Source: Oppenheim and Schafer, Discrete-Time Signal Processing: the transform
// of a sequence, and of n times the sequence for the derivative of the phase.
func (a Answer) At(hz float64) (gain complex128, delay float64) {
	w := 2 * math.Pi * hz / a.Rate
	step := cmplx.Exp(complex(0, -w))
	var z, sum, slope complex128
	for i, v := range a.Samples {
		if i%resync == 0 {
			z = cmplx.Exp(complex(0, -2*math.Pi*math.Mod(hz*float64(a.First+i)/a.Rate, 1)))
		}
		part := complex(v*real(z), v*imag(z))
		sum += part
		n := float64(a.First + i)
		slope += complex(n*real(part), n*imag(part))
		z *= step
	}
	if sum == 0 {
		return 0, math.NaN()
	}
	return sum, real(slope/sum) / a.Rate
}

// Near is At of many frequencies at once, for long answers: each is taken at the
// nearest place of a Fourier transform, which places tells. They lie half a cycle
// of the whole answer apart, and half a Hz at most, so nothing is lost between
// them. Frequencies that share a place are told once.
func (a Answer) Near(hz []float64) (places []float64, gains []complex128, delays []float64) {
	n := 16
	for n < 2*len(a.Samples) || float64(n) < 2*a.Rate {
		n *= 2
	}
	transform := fourier.NewFFT(n)
	x := padded(a.Samples, 1, n)
	whole := transform.Coefficients(nil, x)
	for i := range a.Samples {
		x[i] *= float64(a.First + i)
	}
	slope := transform.Coefficients(nil, x)
	last := -1
	for _, f := range hz {
		k := min(max(int(math.Round(f/a.Rate*float64(n))), 0), n/2)
		if k == last {
			continue
		}
		last = k
		turn := -2 * math.Pi * math.Mod(float64(k)*float64(a.First)/float64(n), 1)
		places = append(places, float64(k)*a.Rate/float64(n))
		gains = append(gains, whole[k]*cmplx.Rect(1, turn))
		delays = append(delays, real(slope[k]/whole[k])/a.Rate)
	}
	return places, gains, delays
}

// Gains returns At of every frequency, without the delays.
func (a Answer) Gains(hz []float64) []complex128 {
	all := make([]complex128, len(hz))
	for i, f := range hz {
		all[i], _ = a.At(f)
	}
	return all
}

// DB is the level of a gain in dB; of 0 it is -Inf.
func DB(gain complex128) float64 { return 20 * math.Log10(cmplx.Abs(gain)) }

// Steps returns n frequencies from low to high, Hz, in equal ratios.
func Steps(low, high float64, n int) []float64 {
	all := make([]float64, n)
	for i := range all {
		all[i] = low * math.Pow(high/low, float64(i)/float64(max(n-1, 1)))
	}
	return all
}

// Worst returns by how many dB a and b differ at most, and at which place of
// them. What lies more than down dB under the highest of a is left out: in the
// depth of a notch a rounded digit is many dB. at is -1 if nothing is left.
func Worst(a, b []complex128, down float64) (db float64, at int) {
	top := math.Inf(-1)
	for _, g := range a {
		top = math.Max(top, DB(g))
	}
	at = -1
	for i := range min(len(a), len(b)) {
		level := DB(a[i])
		if !(level > top-down) {
			continue
		}
		if d := math.Abs(level - DB(b[i])); at < 0 || d > db || d != d {
			db, at = d, i
		}
	}
	return db, at
}

// Line returns the amplitude of the line at hz in a sound x, and its phase in
// radians at the first sample: a cosine has 0. The sound is seen through a
// Kaiser window whose side lobes lie below -190 dB, so it should last for 20
// cycles or more of the difference to its nearest neighbour.
//
// Source: Kaiser and Schafer, IEEE Trans. ASSP 28(1), 1980.
func Line(x []float64, hz, rate float64) (amplitude, phase float64) {
	var sum, z complex128
	weights := 0.0
	step := cmplx.Exp(complex(0, -2*math.Pi*hz/rate))
	for i, v := range x {
		if i%resync == 0 {
			z = cmplx.Exp(complex(0, -2*math.Pi*math.Mod(hz*float64(i)/rate, 1)))
		}
		r := 2*(float64(i)+0.5)/float64(len(x)) - 1
		w := bessel0(24 * math.Sqrt(1-r*r))
		weights += w
		sum += complex(v*w, 0) * z
		z *= step
	}
	if weights == 0 {
		return 0, 0
	}
	sum /= complex(weights, 0)
	if hz > 0 {
		sum *= 2
	}
	return cmplx.Abs(sum), cmplx.Phase(sum)
}

// bessel0 is the modified Bessel function of order 0. Source: Abramowitz and
// Stegun, 9.6.12.
func bessel0(x float64) float64 {
	sum, term := 1.0, 1.0
	for k := 1.0; term > 1e-17*sum; k++ {
		term *= x * x / 4 / k / k
		sum += term
	}
	return sum
}
