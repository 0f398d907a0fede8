package meter

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

func toneOf(rate float64, samples []float64) ToneReading {
	t := NewTone(rate, 1)
	t.Write([][]float64{samples})
	return t.Strongest()
}

func cents(got, want float64) float64 { return 1200 * math.Log2(got/want) }

// harmonics adds sines of those numbers and amplitudes over a root.
func harmonics(rate, seconds, root float64, amplitudes map[int]float64) []float64 {
	s := make([]float64, int(rate*seconds))
	for n, a := range amplitudes {
		for i, x := range tone(rate, seconds, a, root*float64(n), 20*float64(n*n)) {
			s[i] += x
		}
	}
	return s
}

// Steady tones of known frequency are found within 0.1 cent.
func TestPitch(t *testing.T) {
	saw := map[int]float64{}
	for n := 1; n <= 12; n++ {
		saw[n] = 0.3 / float64(n)
	}
	for _, rate := range []float64{48000, 44100, 8000} {
		for _, hz := range []float64{41.2, 55, 82.41, 110, 261.6256, 440, 997, 1234.5, 3520} {
			shapes := map[string]map[int]float64{
				"sine":               {1: 0.5},
				"weak root":          {1: 0.02, 2: 0.5, 3: 0.3, 4: 0.2},
				"even louder":        {1: 0.2, 2: 0.5, 3: 0.1, 4: 0.4, 5: 0.05, 6: 0.3},
				"odd":                {1: 0.5, 3: 0.166, 5: 0.1, 7: 0.07},
				"root missing, 3..7": {3: 0.2, 4: 0.2, 5: 0.2, 6: 0.2, 7: 0.2},
				"saw":                saw,
			}
			for name, amplitudes := range shapes {
				highest := 1
				for n := range amplitudes {
					highest = max(highest, n)
				}
				if hz*float64(highest) > 0.45*rate {
					continue
				}
				got := toneOf(rate, harmonics(rate, 0.75, hz, amplitudes))
				if !got.Found || math.Abs(cents(got.Hz, hz)) > 0.1 {
					t.Errorf("%s of %g Hz at %g Hz reads %.5f Hz (%.3f cents, found %v)", name, hz, rate, got.Hz, cents(got.Hz, hz), got.Found)
				}
			}
		}
	}
}

func TestPitchAtHighRates(t *testing.T) {
	for _, rate := range []float64{96000, 384000} {
		for _, hz := range []float64{41.2, 997} {
			got := toneOf(rate, tone(rate, 0.75, 0.5, hz, 0))
			within(t, fmt.Sprintf("%g Hz at %g Hz, cents", hz, rate), cents(got.Hz, hz), 0, 0.1)
		}
	}
}

func TestPitchInNoise(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for _, hz := range []float64{55, 440, 2000} {
		s := tone(48000, 0.7, 0.5, hz, 0)
		for i := range s {
			s[i] += 0.05 * 0.7071 * r.NormFloat64() // 20 dB below the sine
		}
		if got := toneOf(48000, s); math.Abs(cents(got.Hz, hz)) > 1 {
			t.Errorf("%g Hz in noise reads %g Hz", hz, got.Hz)
		} else {
			// What is beside it is the noise in the band up to 20 kHz of 24.
			within(t, fmt.Sprintf("noise beside %g Hz", hz), got.THDN, -20+10*math.Log10(20./24), 0.2)
		}
	}
	noise := make([]float64, 48000)
	for i := range noise {
		noise[i] = 0.1 * r.NormFloat64()
	}
	if got := toneOf(48000, noise); got.Found {
		t.Errorf("white noise has a pitch of %g Hz, %.3f of its power", got.Hz, got.Share)
	}
	for range 20 {
		brown, last := make([]float64, 48000), 0.0
		for i := range brown {
			last = 0.999*last + 0.01*r.NormFloat64()
			brown[i] = last
		}
		if got := toneOf(48000, brown); got.Found {
			t.Errorf("brown noise has a pitch of %g Hz, %.3f of its power", got.Hz, got.Share)
		}
	}
	if got := toneOf(48000, make([]float64, 48000)); got.Found {
		t.Errorf("silence has a pitch of %g Hz", got.Hz)
	}
}

// AES17, THD+N: the root of the powers beside the tone over that of all. Quantising:
// Bennett 1948; Lipshitz, Wannamaker and Vanderkooy 1992: white noise of 1/12 (with
// TPDF dither 1/4) of a step's square, here from 20 Hz to 20 kHz of 24.
func TestTHDN(t *testing.T) {
	band := 10 * math.Log10(19980./24000)
	r := rand.New(rand.NewPCG(3, 4))
	quantised := func(steps float64, dither bool) []float64 {
		s := tone(48000, 0.7, 0.99, 997, 0)
		for i, x := range s {
			d := 0.0
			if dither {
				d = r.Float64() - r.Float64()
			}
			s[i] = math.Round(x*steps+d) / steps
		}
		return s
	}
	full := 20*math.Log10(0.99) - 3.0103
	for _, test := range []struct {
		name    string
		samples []float64
		want    float64
		within  float64
	}{
		{"third harmonic 1 %", harmonics(48000, 0.7, 997, map[int]float64{1: 0.5, 3: 0.005}), -40.0004, 0.01},
		{"second 0.1 % and third 0.1 %", harmonics(48000, 0.7, 440, map[int]float64{1: 0.5, 2: 0.0005, 3: 0.0005}), -56.99, 0.01},
		{"16 bits, dither", quantised(1<<15, true), 10*math.Log10(0.25/(1<<30)) + band - full, 0.3},
		{"16 bits", quantised(1<<15, false), 10*math.Log10(1./12/(1<<30)) + band - full, 0.5},
		{"24 bits, dither", quantised(1<<23, true), 10*math.Log10(0.25/(1<<46)) + band - full, 0.3},
	} {
		got := toneOf(48000, test.samples)
		within(t, test.name, got.THDN, test.want, test.within)
	}
	// What the meter itself leaves beside a perfect tone.
	if got := toneOf(48000, tone(48000, 0.7, 1, 997, 33)); got.THDN > -160 {
		t.Errorf("beside a perfect sine there is %.1f dB", got.THDN)
	}
}

func TestLevelOfTheLine(t *testing.T) {
	for _, hz := range []float64{100, 997, 1000.3, 5000.7, 15000.1} {
		got := toneOf(48000, tone(48000, 0.7, 0.25, hz, 10))
		within(t, fmt.Sprintf("level of %g Hz", hz), got.Level, -12.0412, 0.001)
		within(t, fmt.Sprintf("line of %g Hz, cents", hz), cents(got.Line, hz), 0, 0.001)
	}
}

func TestShortTonesAndChannels(t *testing.T) {
	if got := toneOf(48000, tone(48000, 0.1, 0.5, 440, 0)); math.Abs(cents(got.Hz, 440)) > 1 {
		t.Errorf("0.1 s of 440 Hz reads %g Hz", got.Hz)
	}
	s := NewTone(48000, 2)
	s.Write([][]float64{tone(48000, 1, 0.1, 300, 0), tone(48000, 1, 0.5, 500, 0)})
	if got := s.Strongest(); got.Channel != 1 || math.Abs(cents(got.Hz, 500)) > 0.1 {
		t.Errorf("the louder channel has 500 Hz; found %g Hz in channel %d", got.Hz, got.Channel)
	}
}

// ISO 16 and equal temperament.
func TestNotes(t *testing.T) {
	for _, test := range []struct {
		hz    float64
		name  string
		cents float64
	}{
		{440, "A4", 0}, {261.6256, "C4", 0}, {27.5, "A0", 0}, {8.1758, "C-1", 0}, {277.1826, "C#4", 0},
		{442, "A4", 7.851}, {4186.009, "C8", 0}, {440 * math.Pow(2, -0.4/12), "A4", -40},
	} {
		name, c := Note(test.hz)
		if name != test.name || math.Abs(c-test.cents) > 0.01 {
			t.Errorf("%g Hz is %s %+.3f cents, want %s %+g", test.hz, name, c, test.name, test.cents)
		}
	}
	if name, _ := Note(0); name != "" {
		t.Errorf("0 Hz is %s", name)
	}
}
