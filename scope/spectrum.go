package scope

import "lampblack/scope/fft"

// Spectrum is a workspace that takes spectra of n samples. It is used by one
// goroutine; only New allocates.
type Spectrum struct {
	fft     *fft.Real
	kind    Window
	window  []float64
	samples []float64 // windowed
	re, im  []float64
	power   []float64 // of each bin, averaged; 1 is a full-scale sine
	level   []float64 // dBFS of each bin
	scale   float64   // of the power of a bin with a mirror image
	average averaging
	counts  [levelCounts]uint32 // of NoiseFloor
}

// averaging is how spectra are gathered, and how far that is.
type averaging struct {
	over   int
	evenly bool // and then stop
	taken  int
	spread float64 // variance of the mean, of independent spectra, re that of one
}

// NewSpectrum returns a workspace for n samples, 16 or more; powers of two are
// fastest. Bins are rate/n apart, 0 to n/2.
func NewSpectrum(n int, w Window) *Spectrum {
	if n < 16 {
		panic("scope: a spectrum needs 16 samples or more")
	}
	bins := n/2 + 1
	s := &Spectrum{
		fft: fft.New(n), kind: w,
		window: make([]float64, n), samples: make([]float64, n),
		re: make([]float64, bins), im: make([]float64, bins),
		power: make([]float64, bins), level: make([]float64, bins),
	}
	w.Fill(s.window)
	amplitude := 2 / (float64(n) * w.CoherentGain())
	s.scale = amplitude * amplitude
	s.Average(1)
	return s
}

// Len returns the number of samples that a spectrum takes.
func (s *Spectrum) Len() int { return len(s.window) }

// Window returns the window in use.
func (s *Spectrum) Window() Window { return s.kind }

// Average sets over how many spectra the power of each bin is averaged:
// evenly over the first, then with the weight 1/spectra for every new one
// (exponential averaging). 1 is no averaging. The spectra taken so far are
// forgotten.
func (s *Spectrum) Average(spectra int) {
	s.average = averaging{over: max(1, spectra)}
	s.Reset()
}

// AverageEvenly sets over how many spectra the power of each bin is averaged,
// all with the same weight (linear averaging). What Transform is given after the
// last of them changes nothing until Reset.
func (s *Spectrum) AverageEvenly(spectra int) {
	s.average = averaging{over: max(1, spectra), evenly: true}
	s.Reset()
}

// Taken returns how many spectra the average holds, and how many it is to hold.
func (s *Spectrum) Taken() (spectra, of int) { return s.average.taken, s.average.over }

// Reset forgets the spectra taken so far.
func (s *Spectrum) Reset() {
	s.average.taken, s.average.spread = 0, 0
	for i := range s.level {
		s.power[i], s.level[i] = 0, Floor
	}
}

// Transform takes the spectrum of Len samples and returns the level of each bin
// in dBFS (a full-scale sine in the middle of its bin is 0), n/2+1 values,
// valid until the next call. Levels are exact to 1e-9 dB; none is below Floor.
// Samples that are no numbers leave a spectrum at Floor, and an average as it was.
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
	windowed := s.samples[:len(samples)]
	for i, w := range s.window[:len(samples)] {
		windowed[i] = float64(samples[i]) * w
	}
}

func (s *Spectrum) transform() []float64 {
	s.fft.Transform(s.re, s.im, s.samples)
	if spoilt := s.re[0] - s.re[0]; spoilt != 0 { // one sample that is no number reaches every bin
		if s.average.over == 1 {
			s.Reset()
		}
		return s.level
	}
	weight, ok := s.average.next()
	if !ok {
		return s.level
	}
	s.ends()
	re, im, power, level := s.re, s.im[:len(s.re)], s.power[:len(s.re)], s.level[:len(s.re)]
	for i, x := range re {
		p := float64(float64(x*x)+float64(im[i]*im[i])) * s.scale
		if weight < 1 {
			p = power[i] + float64(weight*(p-power[i]))
		}
		power[i] = p
		level[i] = powerDB(p)
	}
	return level
}

// ends halves what has no mirror image: the lines at 0 Hz and at half the rate.
func (s *Spectrum) ends() {
	s.re[0] /= 2
	if last := len(s.re) - 1; len(s.window)%2 == 0 {
		s.re[last] /= 2
	}
}

// next counts another spectrum and returns its weight, or false if there is no
// place for it.
func (a *averaging) next() (weight float64, ok bool) {
	if a.evenly && a.taken == a.over {
		return 0, false
	}
	a.taken = min(a.taken+1, a.over)
	weight = 1 / float64(a.taken)
	a.spread = (1-weight)*(1-weight)*a.spread + weight*weight
	return weight, true
}

// Levels returns what the last Transform returned.
func (s *Spectrum) Levels() []float64 { return s.level }

// Hz returns the frequency of a place among the bins at that rate.
func (s *Spectrum) Hz(bin, rate float64) float64 { return bin * rate / float64(len(s.window)) }
