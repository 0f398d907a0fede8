package scope

import (
	"math"

	"gonum.org/v1/gonum/dsp/fourier"
)

// Floor is the lowest level of a spectrum, in dBFS: silence is drawn there.
const Floor = -200.0

// Spectrum is a workspace that takes spectra of n samples. It is used by one
// goroutine; only New allocates.
type Spectrum struct {
	fft      *fourier.FFT
	kind     Window
	window   []float64
	samples  []float64 // windowed
	lines    []complex128
	power    []float64 // of each bin, averaged; 1 is a full-scale sine
	level    []float64 // dBFS of each bin
	scale    float64   // of the power of a bin with a mirror image
	averages int
	taken    int
}

// NewSpectrum returns a workspace for n samples, 16 or more; powers of two are
// fastest. Bins are rate/n apart, 0 to n/2.
func NewSpectrum(n int, w Window) *Spectrum {
	if n < 16 {
		panic("scope: a spectrum needs 16 samples or more")
	}
	bins := n/2 + 1
	s := &Spectrum{
		fft: fourier.NewFFT(n), kind: w,
		window: make([]float64, n), samples: make([]float64, n),
		lines: make([]complex128, bins), power: make([]float64, bins), level: make([]float64, bins),
		averages: 1,
	}
	w.Fill(s.window)
	amplitude := 2 / (float64(n) * w.CoherentGain())
	s.scale = amplitude * amplitude
	s.Reset()
	return s
}

// Len returns the number of samples that a spectrum takes.
func (s *Spectrum) Len() int { return len(s.window) }

// Window returns the window in use.
func (s *Spectrum) Window() Window { return s.kind }

// Average sets over how many spectra the power of each bin is averaged:
// evenly over the first, then with the weight 1/spectra for every new one.
// 1 is no averaging. The spectra taken so far are forgotten.
func (s *Spectrum) Average(spectra int) {
	s.averages = max(1, spectra)
	s.Reset()
}

// Reset forgets the spectra taken so far.
func (s *Spectrum) Reset() {
	s.taken = 0
	for i := range s.level {
		s.power[i], s.level[i] = 0, Floor
	}
}

// Transform takes the spectrum of Len samples and returns the level of each bin
// in dBFS (a full-scale sine in the middle of its bin is 0), n/2+1 values,
// valid until the next call. Levels are exact to 1e-6 dB; none is below Floor.
func (s *Spectrum) Transform(samples []float64) []float64 {
	windowed(s, samples)
	return s.transform()
}

// Transform32 is Transform for the samples of a tap.
func (s *Spectrum) Transform32(samples []float32) []float64 {
	windowed(s, samples)
	return s.transform()
}

func windowed[S Sample](s *Spectrum, samples []S) {
	if len(samples) != len(s.window) {
		panic("scope: a spectrum was given another number of samples than it takes")
	}
	for i, x := range samples {
		s.samples[i] = float64(x) * s.window[i]
	}
}

func (s *Spectrum) transform() []float64 {
	s.fft.Coefficients(s.lines, s.samples)
	s.taken = min(s.taken+1, s.averages)
	weight := 1 / float64(s.taken)
	last := len(s.lines) - 1
	for i, line := range s.lines {
		re, im := real(line), imag(line)
		p := (re*re + im*im) * s.scale
		if i == 0 || i == last && len(s.window)%2 == 0 {
			p /= 4 // no mirror image
		}
		if s.taken > 1 {
			p = s.power[i] + weight*(p-s.power[i])
		}
		s.power[i] = p
		s.level[i] = powerDB(p)
	}
	return s.level
}

// Levels returns what the last Transform returned.
func (s *Spectrum) Levels() []float64 { return s.level }

// powerDB returns 10 log10 p, Floor for less than that and for what is no
// number, exact to 1e-8 dB. It is four times as fast as math.Log10.
//
// The logarithm of the mantissa m, brought to 1/sqrt 2 .. sqrt 2, is the series
// of 2 artanh((m-1)/(m+1)): Abramowitz and Stegun, eq. 4.1.27.
func powerDB(p float64) float64 {
	if !(p > 1e-20) {
		return Floor
	}
	const sqrtHalf = 0x3fe6a09e667f3bcd // its bits
	bits := math.Float64bits(p)
	exponent := int64(bits-sqrtHalf) >> 52
	m := math.Float64frombits(bits - uint64(exponent)<<52)
	t := (m - 1) / (m + 1)
	t2 := t * t
	const ln = 20 / math.Ln10
	return float64(exponent)*(10*math.Ln2/math.Ln10) + ln*t*(1+t2*(1./3+t2*(1./5+t2*(1./7+t2*(1./9)))))
}
