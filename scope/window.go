package scope

import "math"

// Window is how a stretch of signal is faded in and out before its spectrum is
// taken: a sum of cosines
//
//	w[i] = a0 - a1 cos(2 pi i/n) + a2 cos(4 pi i/n) - ...,  i = 0 .. n-1
//
// (the periodic form, as spectra need it).
//
// Sources: F. J. Harris, Proc. IEEE 66(1), 1978; flat top: the coefficients of
// scipy, after D'Antona and Ferrero, 2006;
// HFT90D: Heinzel, Ruediger and Schilling, Spectrum and spectral density estimation
// by the discrete Fourier transform, 2002.
type Window int

// The windows.
const (
	Rectangular    Window = iota // narrowest line, worst leakage: for whole periods
	Hann                         // for every day
	Hamming                      // lower first side lobe
	Blackman                     // leakage falls fast
	BlackmanHarris               // side lobes of -92 dB: weak lines beside strong ones
	FlatTop                      // levels read within 0.01 dB
	HFT90D                       // levels read within 0.004 dB
)

var windows = [...]struct {
	name  string
	terms []float64
}{
	Rectangular:    {"rectangular", []float64{1}},
	Hann:           {"Hann", []float64{0.5, 0.5}},
	Hamming:        {"Hamming", []float64{0.54, 0.46}},
	Blackman:       {"Blackman", []float64{0.42, 0.5, 0.08}},
	BlackmanHarris: {"Blackman-Harris", []float64{0.35875, 0.48829, 0.14128, 0.01168}},
	FlatTop:        {"flat top", []float64{0.21557895, 0.41663158, 0.277263158, 0.083578947, 0.006947368}},
	HFT90D:         {"HFT90D", []float64{1, 1.942604, 1.340318, 0.440811, 0.043097}},
}

// Windows returns all windows in the order of a menu.
func Windows() []Window {
	return []Window{Rectangular, Hann, Hamming, Blackman, BlackmanHarris, FlatTop, HFT90D}
}

// String returns the window's name.
func (w Window) String() string { return windows[w].name }

// WindowNamed returns the window of that name (see String), or false.
func WindowNamed(name string) (Window, bool) {
	for _, w := range Windows() {
		if w.String() == name {
			return w, true
		}
	}
	return 0, false
}

// Fill sets dst to the window.
func (w Window) Fill(dst []float64) {
	for i := range dst {
		angle, sign := 2*math.Pi*float64(i)/float64(len(dst)), 1.0
		dst[i] = 0
		for k, a := range windows[w].terms {
			dst[i] += sign * a * math.Cos(float64(k)*angle)
			sign = -sign
		}
	}
}

// CoherentGain is what the window leaves of the amplitude of a line: the mean of
// the window.
func (w Window) CoherentGain() float64 { return windows[w].terms[0] }

// NoiseBandwidth is the width, in bins, of the ideal filter that lets as much
// white noise through as a bin with this window does (ENBW).
func (w Window) NoiseBandwidth() float64 {
	terms := windows[w].terms
	sum := terms[0] * terms[0]
	for _, a := range terms[1:] {
		sum += a * a / 2
	}
	return sum / (terms[0] * terms[0])
}

// Lobe is half the width of a line's main lobe, in bins.
func (w Window) Lobe() int { return len(windows[w].terms) }
