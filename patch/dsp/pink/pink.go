// Package pink gives white noise a slope: pink falls by 3.01 dB of power for each
// octave, brown by 6.02, blue and violet rise by as much.
//
//	sample rate -> Design -> one-pole filters side by side -> power ~ 1/f
//
// A sum of one-pole power responses with positive weights is the power response
// of a filter. So the weights are fitted to 1/f as a linear problem (fit.go),
// the zeros of the sum are found, one between each two neighbouring poles
// (zeros.go), and the partial fractions of the resulting filter are what runs.
// All is computed from the sample rate, with the same bits on every processor;
// there is no table of constants but one correction (slope.go) that is the same at
// all rates. A Stream gives the same bits wherever a run begins (stream.go).
//
// Held by tests: from 20 Hz to 20 kHz the response lies within 0.005 dB of the
// slope at 44.1, 48, 96 and 192 kHz; a run from anywhere is that from the start.
package pink

import "math"

const most = 18 // poles: three times six

// Filter is a pink filter: a small value, to be copied freely. The zero value
// gives silence.
type Filter struct {
	n      int
	direct float64       // weight of the input itself
	pole   [most]float64 // of each one-pole filter
	weight [most]float64 // of its output
	state  [most]float64
}

// Design returns the filter for a sample rate in Hz, 8,000 to 384,000, whose
// power gain is at1k at 1 kHz and at1k * 1000/f at f Hz, from 20 Hz to 0.46 of
// the rate.
func Design(rate, at1k float64) Filter {
	s := poles(rate)
	s.fit(rate)
	zeros := s.zeros()
	f := Filter{n: len(zeros)}
	copy(f.pole[:], s.low)
	for i, q := range s.top {
		f.pole[len(s.low)+i] = -q
	}
	f.expand(zeros, math.Sqrt(at1k/ratio(zeros, f.pole[:f.n], 1000/rate)))
	return f
}

// ratio is the power gain at f (a part of the sample rate) of zeros over poles.
func ratio(zeros, poles []float64, f float64) float64 {
	y := 1.0
	for i := range zeros {
		y = float64(y*distance(zeros[i], f)) / distance(poles[i], f)
	}
	return y
}

// distance is the square of the distance of z from the point of f on the unit
// circle, |1 - z e^(-2 pi i f)|^2.
func distance(z, f float64) float64 {
	return float64((1-z)*(1-z)) + float64(2*z*versine(f))
}

// expand finds the partial fractions of gain * product of (1 - zero/z) over
// product of (1 - pole/z).
func (f *Filter) expand(zeros []float64, gain float64) {
	f.direct = gain
	for k := range zeros {
		p := f.pole[k]
		f.direct = float64(f.direct*zeros[k]) / p
		w := gain
		for i, z := range zeros {
			w = float64(w*(p-z)) / p
			if i != k {
				w = float64(w*p) / (p - f.pole[i])
			}
		}
		f.weight[k] = w
	}
}

// Next takes a sample of white noise and gives one of pink noise.
func (f *Filter) Next(white float64) float64 {
	y := float64(f.direct * white)
	for k := range f.n {
		s := float64(f.pole[k]*f.state[k]) + white
		f.state[k] = s
		y += float64(f.weight[k] * s)
	}
	return y
}

// Power returns the power gain at f, a part of the sample rate (0 to 0.5): the
// computed response that a long average is held against.
func (f *Filter) Power(frequency float64) float64 {
	sin, cos := math.Sincos(2 * math.Pi * frequency)
	re, im := f.direct, 0.0
	for k := range f.n {
		// 1/(1 - p e^(-i w)) = (1 - p cos w - i p sin w) / |...|^2
		d := f.weight[k] / distance(f.pole[k], frequency)
		re += float64(d * (1 - float64(f.pole[k]*cos)))
		im -= float64(d * f.pole[k] * sin)
	}
	return float64(re*re) + float64(im*im)
}
