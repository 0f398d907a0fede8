package scope

import (
	"fmt"
	"math"
	"testing"
)

// sine returns n samples of a sine of that amplitude, frequency and phase at 48 kHz.
func sine(n int, amplitude, hz, phase float64) []float64 {
	s := make([]float64, n)
	for i := range s {
		s[i] = amplitude * math.Sin(2*math.Pi*math.Mod(hz*float64(i)/48000, 1)+phase)
	}
	return s
}

// Steady sines at known places between the bins: the frequency is read within
// 0.01 bin and the level within 0.01 dB with every window; with those whose side
// lobes are low within a tenth of that.
func TestPeaksReadASineBetweenBins(t *testing.T) {
	for _, w := range Windows() {
		for _, n := range []int{1024, 8192} {
			s := NewSpectrum(n, w)
			bins, level := 0.0, 0.0
			for step := range 80 {
				bin := 100 + 3.57*float64(step) + 0.0137*float64(step%7) // far from 0 Hz: no image in the lobe
				s.Transform(sine(n, 0.5, bin*48000/float64(n), float64(step)))
				got := s.Peaks(make([]Peak, 1), 48000, -20)
				if len(got) != 1 {
					t.Fatalf("%s, %d samples: no peak at bin %g", w, n, bin)
				}
				bins = max(bins, math.Abs(got[0].Hz*float64(n)/48000-bin))
				level = max(level, math.Abs(got[0].DB-DB(0.5)))
			}
			t.Logf("%s, %d samples: worst %.2g bin, %.2g dB", w, n, bins, level)
			allowed := 0.001
			if w == Rectangular || w == Hamming { // their feet meet the image at negative frequencies
				allowed = 0.01
			}
			if bins > allowed || level > allowed {
				t.Errorf("%s, %d samples: frequency wrong by up to %.5f bin and level by %.5f dB; allowed are %g", w, n, bins, level, allowed)
			}
		}
	}
}

// 1 kHz read over a third of a second: dsp anchors of target 9 ask for 0.001 Hz
// over a second.
func TestPeakIsExactToAMillihertz(t *testing.T) {
	s := NewSpectrum(16384, BlackmanHarris)
	for _, hz := range []float64{440, 997.3, 1000.123, 12345.678} {
		s.Transform(sine(16384, 1, hz, 0.3))
		got := s.Peaks(make([]Peak, 1), 48000, -20)[0]
		if math.Abs(got.Hz-hz) > 1e-3 || math.Abs(got.DB) > 1e-3 {
			t.Errorf("%g Hz at 0 dBFS is read as %.6f Hz at %.6f dBFS", hz, got.Hz, got.DB)
		}
	}
}

// The window's transform against the sum over all its samples.
func TestFallIsTheWindowsTransform(t *testing.T) {
	for _, w := range Windows() {
		samples, sum := make([]float64, 4096), 0.0
		w.Fill(samples)
		for _, x := range samples {
			sum += x
		}
		for _, away := range []float64{0, 0.1, 0.5, 0.9999999999, 1, 1.5, 2, 2.7, 3, 4.4, 5, -0.3, -1} {
			if got, want := w.fall(away), transformAt(samples, away)/sum; math.Abs(got-want) > 2e-4 {
				t.Errorf("%s: %g bins away %.7f is left, want %.7f", w, away, got, want)
			}
		}
	}
}

func TestNearestNote(t *testing.T) {
	for _, test := range []struct {
		hz     float64
		name   string
		number int
		cents  float64
		source string
	}{
		{440, "A4", 69, 0, "ISO 16:1975"},
		{442, "A4", 69, 7.851, "1200 log2(442/440)"},
		{261.6256, "C4", 60, 0, "note 60, MIDI 1.0 and equal temperament"},
		{8.1758, "C-1", 0, 0, "note 0"},
		{277.1826 * math.Pow(2, 0.25/12), "C#4", 61, 25, "note 61 and a quarter of a semitone"},
		{12543.854, "G9", 127, 0, "note 127"},
	} {
		n, ok := NearestNote(test.hz)
		if !ok || n.Name() != test.name || n.Number != test.number || math.Abs(n.Cents-test.cents) > 0.01 {
			t.Errorf("%g Hz is %s, number %d, %+.3f cents; want %s, %d, %+.3f (%s)", test.hz, n.Name(), n.Number, n.Cents, test.name, test.number, test.cents, test.source)
		}
	}
	for _, hz := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		if _, ok := NearestNote(hz); ok {
			t.Errorf("%g Hz has a note", hz)
		}
	}
}

func TestWindowsAreFoundByName(t *testing.T) {
	for _, w := range Windows() {
		if got, ok := WindowNamed(w.String()); !ok || got != w {
			t.Errorf("%q is found as %v, %v", w, got, ok)
		}
	}
	if _, ok := WindowNamed("barn door"); ok {
		t.Error("a window of no such name is found")
	}
}

func BenchmarkPeaks(b *testing.B) {
	s, peaks := NewSpectrum(16384, BlackmanHarris), make([]Peak, 16)
	signal := make([]float64, 16384)
	for k := 1; k <= 16; k++ {
		for i, x := range sine(16384, 1/float64(k), 441.3*float64(k), 0) {
			signal[i] += x
		}
	}
	s.Transform(signal)
	b.ReportAllocs()
	for b.Loop() {
		s.Peaks(peaks, 48000, -60)
	}
}

func ExampleNearestNote() {
	n, _ := NearestNote(445)
	fmt.Printf("%s %+.1f cents\n", n.Name(), n.Cents)
	// Output: A4 +19.6 cents
}
