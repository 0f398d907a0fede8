package scope

import (
	"math"
	"math/rand/v2"
	"testing"
)

// IEC 61260-1:2014, annex E, base ten: exact mid-bands, edges, nominal names.
func TestBandsAreThoseOfTheStandard(t *testing.T) {
	for _, test := range []struct {
		band Band
		mid  float64
		name string
	}{
		{-16, 25.119, "25 Hz"}, {-15, 31.623, "31.5 Hz"}, {-14, 39.811, "40 Hz"}, {-13, 50.119, "50 Hz"},
		{-12, 63.096, "63 Hz"}, {-11, 79.433, "80 Hz"}, {-10, 100, "100 Hz"}, {-9, 125.893, "125 Hz"},
		{-8, 158.489, "160 Hz"}, {-7, 199.526, "200 Hz"}, {-6, 251.189, "250 Hz"}, {-5, 316.228, "315 Hz"},
		{-4, 398.107, "400 Hz"}, {-3, 501.187, "500 Hz"}, {-2, 630.957, "630 Hz"}, {-1, 794.328, "800 Hz"},
		{0, 1000, "1 kHz"}, {1, 1258.925, "1.25 kHz"}, {5, 3162.278, "3.15 kHz"}, {10, 10000, "10 kHz"}, {13, 19952.623, "20 kHz"},
	} {
		if got := test.band.Mid(); math.Abs(got-test.mid) > 5e-4 {
			t.Errorf("mid-band of %d is %.3f Hz, want %.3f", test.band, got, test.mid)
		}
		if got := test.band.String(); got != test.name {
			t.Errorf("band %d is named %q, want %q", test.band, got, test.name)
		}
	}
	low, high := Band1kHz.Edges()
	if math.Abs(low-891.251) > 5e-4 || math.Abs(high-1122.018) > 5e-4 {
		t.Errorf("edges at 1 kHz are %.3f and %.3f, want 891.251 and 1122.018", low, high)
	}
	if Bands != 30 {
		t.Errorf("%d bands from 25 Hz to 20 kHz, want 30", Bands)
	}
}

// A sine in the middle of a band reads its own level there; the attenuation in
// neighbours is far over what the standard asks of class 1 (16.6 dB at least, from
// memory).
func TestSineReadsItsLevelInItsBand(t *testing.T) {
	for _, w := range []Window{Hann, BlackmanHarris, FlatTop} {
		s := NewSpectrum(16384, w)
		for b := Band25Hz; b <= Band20kHz; b++ {
			if !s.Resolved(b, 48000) {
				continue
			}
			s.Transform(sine(16384, 0.5, b.Mid(), 1))
			got := s.ThirdOctaves(make([]float64, Bands), 48000, Band25Hz)
			at := int(b - Band25Hz)
			if math.Abs(got[at]-DB(0.5)) > 0.05 {
				t.Errorf("%s: a sine at %s reads %.3f dBFS there, want %.3f", w, b, got[at], DB(0.5))
			}
			for _, next := range []int{at - 1, at + 1} {
				if next >= 0 && next < Bands && got[next] > got[at]-16.6 {
					t.Errorf("%s: a sine at %s reads %.1f dBFS in a neighbour", w, b, got[next])
				}
			}
		}
	}
	if s := NewSpectrum(16384, BlackmanHarris); s.Resolved(Band25Hz, 48000) || !s.Resolved(Band1kHz, 48000) {
		t.Error("a band of 5.8 Hz is said to be resolved by lines of 23 Hz, or one of 231 Hz not")
	}
}

// White noise has the density 2 s^2/rate (Welch 1967): each band reads that times
// its width. The sum of all bands is the power between the outer edges.
func TestNoiseReadsItsPowerInEachBand(t *testing.T) {
	random := rand.New(rand.NewPCG(11, 12))
	const n, spectra = 16384, 150
	s := NewSpectrum(n, Hann)
	s.AverageEvenly(spectra)
	block := make([]float64, n)
	for range spectra {
		for i := range block {
			block[i] = 0.1 * random.NormFloat64()
		}
		s.Transform(block)
	}
	for i, got := range s.ThirdOctaves(make([]float64, Bands), 48000, Band25Hz) {
		low, high := (Band25Hz + Band(i)).Edges()
		want := 10*math.Log10(2*0.01/48000*(high-low)) + 3.0103
		deviation := 4.34 / math.Sqrt(spectra*(high-low)/48000*n/1.5) // dB, one standard deviation
		if math.Abs(got-want) > 4*deviation {
			t.Errorf("%s: white noise reads %.3f dBFS, want %.3f", Band25Hz+Band(i), got, want)
		}
	}
	if taken, of := s.Taken(); taken != spectra || of != spectra {
		t.Errorf("%d of %d spectra taken, want %d", taken, of, spectra)
	}
	before := s.Levels()[100]
	if s.Transform(make([]float64, n)); s.Levels()[100] != before {
		t.Error("an even average that is full still changes")
	}
}

// The spectrum of a click is flat (its transform is a constant), so each band
// holds exactly its width, parts of bins included.
func TestBandsTakePartsOfBins(t *testing.T) {
	const n = 4096
	s, click := NewSpectrum(n, Hann), make([]float64, n)
	click[n/2] = 1
	bin := s.Transform(click)[1000]
	for i, got := range s.ThirdOctaves(make([]float64, Bands), 48000, Band25Hz) {
		low, high := (Band25Hz + Band(i)).Edges()
		want := bin + 10*math.Log10((high-low)/48000*n/1.5)
		if i == 0 {
			continue // the line at 0 Hz has no mirror image and reaches into it
		}
		if math.Abs(got-want) > 1e-6 {
			t.Errorf("%s: a click reads %.7f dBFS, want %.7f", Band25Hz+Band(i), got, want)
		}
	}
	for _, got := range s.ThirdOctaves(make([]float64, 3), 8000, 7) { // from 4467 Hz on
		if got != Floor {
			t.Errorf("above half the rate a band reads %g dBFS", got)
		}
	}
}

// Beside the lines the floor of white noise is found, with one spectrum and with
// many; its density is that of the noise, 2 s^2 a rate (Welch 1967).
func TestNoiseFloorIsThatOfTheNoise(t *testing.T) {
	random := rand.New(rand.NewPCG(13, 14))
	const n = 16384
	for _, spectra := range []int{1, 2, 8, 32} {
		s := NewSpectrum(n, BlackmanHarris)
		s.Average(spectra)
		block := make([]float64, n)
		for range 2 * spectra {
			for i, x := range sine(n, 0.5, 1234.5, 0) {
				block[i] = x + 1e-3*random.NormFloat64()
			}
			s.Transform(block)
		}
		want := 10*math.Log10(2*1e-6/n*s.Window().NoiseBandwidth()) + 3.0103
		got := s.NoiseFloor(200, 20000, 48000)
		t.Logf("average over %d: %.3f dBFS, want %.3f", spectra, got, want)
		if math.Abs(got-want) > 0.25 {
			t.Errorf("average over %d: floor at %.3f dBFS, want %.3f", spectra, got, want)
		}
		if got, want := s.Density(want, 48000), 10*math.Log10(2*1e-6/48000); math.Abs(got-want) > 1e-4 {
			t.Errorf("density %.4f dBFS in 1 Hz, want %.4f", got, want)
		}
	}
	s := NewSpectrum(1024, Hann)
	if got := s.NoiseFloor(20, 20000, 48000); got != Floor {
		t.Errorf("the floor of silence is %g", got)
	}
	if got := s.NoiseFloor(50000, 60000, 48000); got != Floor {
		t.Errorf("the floor where there are no bins is %g", got)
	}
}

func TestHoldFallsAsItIsTold(t *testing.T) {
	var h Hold
	h.Take([]float64{-10, -50, -190}, 3)
	got := h.Take([]float64{-60, -40, -200}, 12)
	for i, want := range []float64{-22, -40, Floor} {
		if got[i] != want {
			t.Errorf("level %d is held at %g, want %g", i, got[i], want)
		}
	}
	if got := h.Take([]float64{-70, -70, -70}, 0); got[0] != -22 {
		t.Errorf("without a fall -22 is held at %g", got[0])
	}
	h.Reset()
	if got := h.Take([]float64{-70, -70, -70}, 0); got[0] != -70 {
		t.Errorf("after Reset -70 is shown as %g", got[0])
	}
}

func TestDifferenceOfTwoSpectra(t *testing.T) {
	a, b := NewSpectrum(4096, Hann), NewSpectrum(4096, Hann)
	a.Transform(sine(4096, 0.5, 996.09375, 0)) // bin 85
	b.Transform(sine(4096, 0.25, 996.09375, 1))
	got := Difference(make([]float64, 2049), a.Levels(), b.Levels(), -120)
	if math.Abs(got[85]+6.0206) > 1e-4 || got[1500] != 0 {
		t.Errorf("half the amplitude differs by %.4f dB, and nothing from nothing by %g", got[85], got[1500])
	}
}

// One frame that is no number must not stay in an average for ever.
func TestAverageSurvivesWhatIsNoNumber(t *testing.T) {
	s := NewSpectrum(256, Hann)
	s.Average(4)
	s.Transform(sine(256, 1, 1875, 0)) // bin 10
	bad := sine(256, 1, 1875, 0)
	bad[17] = math.NaN()
	before := s.Levels()[10]
	s.Transform(bad)
	if taken, _ := s.Taken(); taken != 1 || s.Levels()[10] != before {
		t.Errorf("a frame with a NaN counts: %d taken, level %g", taken, s.Levels()[10])
	}
	for range 3 {
		s.Transform(sine(256, 1, 1875, 0))
	}
	if got := s.Levels()[10]; math.Abs(got) > 1e-6 {
		t.Errorf("after a frame with a NaN a full-scale sine reads %g dBFS", got)
	}
	first := NewSpectrum(256, Hann)
	first.Average(4)
	first.Transform(bad)
	first.Transform(sine(256, 1, 1875, 0))
	if got := first.Levels()[10]; math.Abs(got) > 1e-6 {
		t.Errorf("after a first frame with a NaN a full-scale sine reads %g dBFS", got)
	}
}
