package meter

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// modulated is (1 + depth cos 2 pi fm t) sin 2 pi fc t.
func modulated(rate, seconds, depth, fm, fc float64) []float64 {
	s := make([]float64, int(rate*seconds))
	for i := range s {
		t := float64(i) / rate
		s[i] = 0.3 * (1 + depth*math.Cos(2*math.Pi*fm*t)) * math.Sin(2*math.Pi*math.Mod(fc*t, 1))
	}
	return s
}

func envelopeOf(rate float64, samples []float64) EnvelopeReading {
	e := NewEnvelope(rate, 1)
	e.Write([][]float64{samples})
	return e.Reading()
}

// The rate and depth of amplitude modulation are those that it was made with.
// Source: the definition of the depth.
func TestModulation(t *testing.T) {
	for _, rate := range []float64{48000, 8000, 96000} {
		for _, fm := range []float64{0.7, 1.37, 4, 14, 16, 31.3, 70, 150, 290} {
			for _, depth := range []float64{0.05, 1} {
				r := envelopeOf(rate, modulated(rate, 8, depth, fm, 1000))
				got, other := r.Fluctuation, r.Roughness
				if fm > RoughnessLow {
					got, other = r.Roughness, r.Fluctuation
				}
				name := fmt.Sprintf("%g Hz, depth %g, at %g Hz", fm, depth, rate)
				within(t, name+": rate", got.Hz, fm, 0.005)
				// The two chains delay the sidebands unequally; far ones of a low tone the most.
				within(t, name+": depth in %", 100*got.Depth, 100*depth, 0.5+depth*math.Pow(fm/290, 2)*4)
				if other.Depth > 0.01 {
					t.Errorf("%s: also %+v", name, other)
				}
			}
		}
	}
}

func TestBeats(t *testing.T) {
	// Two equal sines 5 Hz apart: the envelope is |cos|, whose first harmonic is 2/3
	// of its mean (Fourier series).
	s := tone(48000, 10, 0.2, 500, 0)
	for i, x := range tone(48000, 10, 0.2, 505, 0) {
		s[i] += x
	}
	r := envelopeOf(48000, s).Fluctuation
	within(t, "beats, Hz", r.Hz, 5, 0.005)
	within(t, "beats, depth in %", 100*r.Depth, 200./3, 0.5)
}

// A steady sine does not fluctuate, however low it is: the envelope has no ripple.
func TestSteadySineDoesNotMove(t *testing.T) {
	for _, hz := range []float64{25, 50, 100, 440, 5000, 20000} {
		if r := envelopeOf(48000, tone(48000, 8, 0.5, hz, 0)); r != (EnvelopeReading{}) {
			t.Errorf("a steady sine of %g Hz reads %+v", hz, r)
		}
	}
	g := rand.New(rand.NewPCG(5, 6))
	for _, seconds := range []int{1, 3, 8, 20, 60} {
		noise := make([]float64, 48000*seconds)
		for i := range noise {
			noise[i] = 0.1 * g.NormFloat64()
		}
		if r := envelopeOf(48000, noise); r != (EnvelopeReading{}) {
			t.Errorf("%d s of white noise read %+v", seconds, r)
		}
		// Noise that moves is another matter, if it lasts.
		for i, x := range noise {
			noise[i] = x * (1 + 0.1*math.Cos(2*math.Pi*4*float64(i)/48000))
		}
		if r := envelopeOf(48000, noise).Fluctuation; seconds >= 8 {
			within(t, fmt.Sprintf("%d s of noise with a fluctuation of 4 Hz", seconds), r.Hz, 4, 0.05)
			within(t, fmt.Sprintf("%d s of noise with a fluctuation of 10 %%", seconds), 100*r.Depth, 10, 1)
		}
	}
	if r := envelopeOf(48000, make([]float64, 48000*8)); r != (EnvelopeReading{}) {
		t.Errorf("silence reads %+v", r)
	}
}

func TestShortModulation(t *testing.T) {
	for _, fm := range []float64{8, 70} {
		r := envelopeOf(48000, modulated(48000, 1, 0.5, fm, 1000))
		got := r.Fluctuation
		if fm > RoughnessLow {
			got = r.Roughness
		}
		within(t, fmt.Sprintf("1 s of %g Hz", fm), got.Hz, fm, 0.05)
		within(t, fmt.Sprintf("1 s of %g Hz, depth in %%", fm), 100*got.Depth, 50, 2)
	}
}

func TestCorrelation(t *testing.T) {
	sine, cosine := tone(48000, 2, 0.5, 1000, 0), tone(48000, 2, 0.5, 1000, 90)
	turned := tone(48000, 2, 0.25, 1000, 180)
	for _, test := range []struct {
		name          string
		left, right   []float64
		want, balance float64
	}{
		{"the same", sine, sine, 1, 0},
		{"a quarter of a turn", sine, cosine, 0, 0},
		{"upside down, half as loud", sine, turned, -1, -6.0206},
		{"60 degrees", sine, tone(48000, 2, 0.5, 1000, 60), 0.5, 0},
	} {
		c := NewCorrelation(48000)
		c.Write([][]float64{test.left, test.right})
		r := c.Reading()
		within(t, test.name, r.All, test.want, 1e-4)
		within(t, test.name+", now", r.Now, test.want, 1e-4)
		within(t, test.name+", lowest", r.Lowest, test.want, 1e-4)
		within(t, test.name+", balance", r.Balance, test.balance, 1e-3)
	}
	c := NewCorrelation(48000)
	c.Write([][]float64{append(sine, sine...), append(sine, turned...)})
	within(t, "the lowest of both halves", c.Reading().Lowest, -1, 1e-4)
	c = NewCorrelation(48000)
	c.Write([][]float64{sine, make([]float64, len(sine))})
	if r := c.Reading(); r.All != 0 || !math.IsInf(r.Balance, -1) {
		t.Errorf("silence on the right reads %+v", r)
	}
}

// What was forgotten is not in the reading, and the seam is none.
func TestForgottenModulation(t *testing.T) {
	e := NewEnvelope(48000, 1)
	e.Write([][]float64{modulated(48000, 8, 1, 4, 1000)})
	e.Forget()
	if r := e.Reading(); r != (EnvelopeReading{}) {
		t.Errorf("of nothing %+v", r)
	}
	e.Write([][]float64{modulated(48000, 8, 0.5, 70, 1000)})
	r := e.Reading()
	within(t, "rate", r.Roughness.Hz, 70, 0.005)
	within(t, "depth in %", 100*r.Roughness.Depth, 50, 1)
	if r.Fluctuation.Depth > 0.01 {
		t.Errorf("the 4 Hz of before are still in it: %+v", r.Fluctuation)
	}
}
