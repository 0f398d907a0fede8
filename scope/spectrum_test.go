package scope

import (
	"fmt"
	"maps"
	"math"
	"math/cmplx"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/dsp/fourier"

	"lampblack/scope/scipy"
)

// Harris, Proc. IEEE 66(1), 1978, table 1 (rectangular to Blackman-Harris);
// Heinzel, Ruediger and Schilling 2002 and scipy's coefficients for the flat top.
// Scallop loss of Hamming: Harris prints 1.78 dB, his coefficients give 1.75.
func TestWindowsAgainstHarris(t *testing.T) {
	for _, want := range []struct {
		window                       Window
		gain, bandwidth, scallop, db float64 // db: highest side lobe
	}{
		{Rectangular, 1, 1, 3.9224, -13.26},
		{Hann, 0.5, 1.5, 1.4236, -31.47},
		{Hamming, 0.54, 1.3628, 1.7514, -42.68},
		{Blackman, 0.42, 1.7268, 1.0989, -58.11},
		{BlackmanHarris, 0.35875, 2.0044, 0.8256, -92.01},
		{FlatTop, 0.21558, 3.7702, 0.0098, -93.03},
		{HFT90D, 1, 3.8832, 0.0039, -90.22},
	} {
		const n, pad = 4096, 64
		w := make([]float64, n)
		want.window.Fill(w)
		sum, square := 0.0, 0.0
		for _, x := range w {
			sum, square = sum+x, square+x*x
		}
		if gain := sum / n; !near(gain, want.gain, 1e-5) || !near(want.window.CoherentGain(), gain, 1e-9) {
			t.Errorf("%s: coherent gain %.6f, said to be %.6f, want %.5f", want.window, gain, want.window.CoherentGain(), want.gain)
		}
		if bandwidth := n * square / (sum * sum); !near(bandwidth, want.bandwidth, 1e-3) || !near(want.window.NoiseBandwidth(), bandwidth, 1e-9) {
			t.Errorf("%s: noise bandwidth %.5f, said to be %.5f, want %.4f bins", want.window, bandwidth, want.window.NoiseBandwidth(), want.bandwidth)
		}
		at := func(bin float64) float64 { return DB(transformAt(w, bin) / sum) }
		if scallop := -at(0.5); !near(scallop, want.scallop, 0.001) {
			t.Errorf("%s: scallop loss %.4f, want %.4f dB", want.window, scallop, want.scallop)
		}
		highest := 0.0
		lines := fourier.NewFFT(n*pad).Coefficients(nil, append(w, make([]float64, n*(pad-1))...))
		for _, line := range lines[want.window.Lobe()*pad:] {
			highest = max(highest, cmplx.Abs(line))
		}
		highest = DB(highest / sum)
		if !near(highest, want.db, 0.05) {
			t.Errorf("%s: highest side lobe %.2f, want %.2f dB", want.window, highest, want.db)
		}
	}
}

// transformAt returns the magnitude of the transform at a place between bins.
func transformAt(w []float64, bin float64) float64 {
	var re, im float64
	for i, x := range w {
		sin, cos := math.Sincos(2 * math.Pi * bin * float64(i) / float64(len(w)))
		re, im = re+x*cos, im+x*sin
	}
	return math.Hypot(re, im)
}

// A full-scale sine in the middle of its bin reads 0 dBFS with every window;
// between bins it reads less by the scallop loss, at 1000 Hz and n = 4096 by the
// values computed with scipy from Harris' windows.
func TestFullScaleReadsZero(t *testing.T) {
	for _, w := range Windows() {
		for _, n := range []int{4096, 4095, 1000} {
			levels := NewSpectrum(n, w).Transform(tone(n, 48000./float64(n)*100))
			if math.Abs(levels[100]) > 1e-6 {
				t.Errorf("%s, %d samples: a full-scale sine reads %.7f dBFS", w, n, levels[100])
			}
		}
	}
	for w, want := range map[Window]float64{Rectangular: -1.643, Hann: -0.627, BlackmanHarris: -0.366, FlatTop: 0.002} {
		highest := Floor
		for _, v := range NewSpectrum(4096, w).Transform(tone(4096, 1000)) {
			highest = max(highest, v)
		}
		if !near(highest, want, 0.005) {
			t.Errorf("%s: 1000 Hz reads %.4f dBFS, want %.3f", w, highest, want)
		}
	}
	steady := make([]float64, 1024)
	for i := range steady {
		steady[i] = 0.5
	}
	if got := NewSpectrum(1024, Hann).Transform(steady)[0]; !near(got, -6.0206, 1e-3) {
		t.Errorf("a steady 0.5 reads %.4f dBFS at 0 Hz", got)
	}
}

// scipy takes the same spectra: its windows, its transform, its logarithm.
func TestSpectrumAgainstScipy(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	samples := make([]float64, 512)
	for i := range samples {
		samples[i] = random.Float64()*2 - 1
	}
	names := map[Window]string{Rectangular: "boxcar", Hann: "hann", Hamming: "hamming", Blackman: "blackman", BlackmanHarris: "blackmanharris", FlatTop: "flattop"}
	var want map[string][]float64
	scipy.Ask(t, `spectra = {}
for name in x["names"]:
    w = s.get_window(name, len(x["samples"]), fftbins=True)
    a = np.abs(fft.rfft(np.array(x["samples"]) * w)) / w.sum(); a[1:-1] *= 2
    spectra[name] = list(20 * np.log10(a))
print(json.dumps(spectra))`, map[string]any{"samples": samples, "names": slices.Collect(maps.Values(names))}, &want)
	if len(want) != len(names) {
		t.Fatalf("%d spectra", len(want))
	}
	for w, name := range names {
		for i, v := range NewSpectrum(512, w).Transform(samples) {
			if math.Abs(v-want[name][i]) > 1e-6 {
				t.Errorf("%s: bin %d is %.8f dBFS, scipy says %.8f", w, i, v, want[name][i])
			}
		}
	}
}

func TestPowerDBAgainstLog10(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 6))
	for range 100000 {
		p := math.Pow(10, random.Float64()*28-19.9)
		if want := 10 * math.Log10(p); math.Abs(powerDB(p)-want) > 1e-11 {
			t.Fatalf("%g is %.10f dB, want %.10f", p, powerDB(p), want)
		}
	}
	for _, p := range []float64{0, 1e-300, math.NaN(), -1} {
		if got := powerDB(p); got != Floor {
			t.Errorf("%g is %g dB, want the floor", p, got)
		}
	}
}

// White noise of variance s^2 has the one-sided density 2 s^2/rate (Welch 1967);
// in a bin that is the density times rate/n times the noise bandwidth.
func TestAveragedNoise(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 8))
	const n, spectra = 1024, 400
	s := NewSpectrum(n, Hann)
	s.Average(spectra)
	block := make([]float64, n)
	for range spectra {
		for i := range block {
			block[i] = 0.1 * random.NormFloat64()
		}
		s.Transform(block)
	}
	power := 0.0
	for _, v := range s.Levels()[10:500] {
		power += math.Pow(10, v/10) / 490
	}
	// A line's power is half the square of its amplitude: 3.01 dB.
	want := 10*math.Log10(2*0.01/n*1.5) + 3.0103
	if got := 10 * math.Log10(power); !near(got, want, 0.05) {
		t.Errorf("white noise of 0.1 reads %.3f dB a bin, want %.3f", got, want)
	}
	spread := 0.0
	for _, v := range s.Levels()[10:500] {
		spread = max(spread, math.Abs(v-want))
	}
	if spread > 1 {
		t.Errorf("after %d averages a bin is still %.2f dB off", spectra, spread)
	}
	s.Reset()
	if s.Levels()[20] != Floor {
		t.Error("Reset does not forget")
	}
}

// The lines of an amplitude-modulated sine: carrier, and sidebands at m/2 of it.
func TestPeaksOnSidebands(t *testing.T) {
	signal := make([]float64, 16384)
	for i := range signal {
		second := float64(i) / 48000
		signal[i] = 0.5 * (1 + 0.8*math.Cos(2*math.Pi*25.3*second)) * math.Sin(2*math.Pi*2101.7*second)
	}
	s := NewSpectrum(len(signal), BlackmanHarris)
	s.Transform(signal)
	got := s.Peaks(make([]Peak, 3), 48000, -60)
	if len(got) != 3 {
		t.Fatalf("%d peaks, want 3: %v", len(got), got)
	}
	if got[1].Hz > got[2].Hz {
		got[1], got[2] = got[2], got[1]
	}
	for i, want := range []Peak{{2101.7, -6.0206}, {2101.7 - 25.3, -6.0206 - 7.9588}, {2101.7 + 25.3, -6.0206 - 7.9588}} {
		if math.Abs(got[i].Hz-want.Hz) > 0.02 || math.Abs(got[i].DB-want.DB) > 0.05 {
			t.Errorf("peak %d is %.3f Hz at %.3f dBFS, want %.3f Hz at %.3f", i, got[i].Hz, got[i].DB, want.Hz, want.DB)
		}
	}
	if got := s.Peaks(make([]Peak, 2), 48000, -60); len(got) != 2 || math.Abs(got[0].Hz-2101.7) > 1 {
		t.Errorf("of two peaks the strongest is not the first: %v", got)
	}
	if got := s.Peaks(nil, 48000, -60); len(got) != 0 {
		t.Errorf("no room, and yet %v", got)
	}
}

// In columns no line is lost, at either kind of axis.
func TestColumnsKeepEveryLine(t *testing.T) {
	s := NewSpectrum(16384, BlackmanHarris)
	for _, hz := range []float64{40, 100, 1000, 5000, 15000} {
		levels := s.Transform(tone(16384, hz))
		highest := Floor
		for _, v := range levels {
			highest = max(highest, v)
		}
		for _, axis := range []Axis{{20, 20000, true}, {0, 24000, false}, {hz / 2, hz * 1.5, false}} {
			columns := s.Columns(make([]float64, 700), 48000, axis)
			best := 0
			for c, v := range columns {
				if v > columns[best] {
					best = c
				}
			}
			at := axis.Fraction(hz) * 700
			width := 4.0/16384*48000/(axis.At(float64(best+1)/700)-axis.At(float64(best)/700)) + 1
			if columns[best] < highest-1.2 || math.Abs(float64(best)-at) > width {
				t.Errorf("%g Hz, axis %+v: column %d at %.2f dBFS, want column %.1f at %.2f", hz, axis, best, columns[best], at, highest)
			}
		}
	}
	for _, v := range s.Columns(make([]float64, 100), 48000, Axis{30000, 90000, false}) {
		if v != Floor {
			t.Errorf("above half the rate stands %g dBFS", v)
		}
	}
}

func BenchmarkSpectrum(b *testing.B) {
	for _, n := range []int{4096, 16384} {
		s, tap := NewSpectrum(n, BlackmanHarris), make([]float32, n)
		for i, x := range tone(n, 997) {
			tap[i] = float32(x)
		}
		b.Run(fmt.Sprintf("transform %d", n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				s.Transform32(tap)
			}
		})
		columns := make([]float64, 1000)
		b.Run(fmt.Sprintf("columns %d", n), func(b *testing.B) {
			for b.Loop() {
				s.Columns(columns, 48000, Axis{20, 20000, true})
			}
		})
	}
}

func ExampleSpectrum() {
	s := NewSpectrum(4800, Hann)
	s.Transform(tone(4800, 1000))
	for _, p := range s.Peaks(make([]Peak, 1), 48000, -60) {
		fmt.Printf("%.1f Hz at %.1f dBFS\n", p.Hz, p.DB+0)
	}
	// Output: 1000.0 Hz at 0.0 dBFS
}
