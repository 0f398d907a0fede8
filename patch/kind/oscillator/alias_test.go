package oscillator

import (
	"math"
	"testing"

	"lampblack/patch/kind/rig"
	"lampblack/patch/module"
)

// tones are the shapes and, by Fourier series, the amplitudes of their harmonics
// k with peaks at +-1. A narrow pulse goes up and down between two samples.
var tones = map[string]struct {
	shape  string
	width  float64 // of the pulse, in %
	series func(k int) float64
}{
	"saw":         {"saw", 50, func(k int) float64 { return 2 / (math.Pi * float64(k)) }},
	"triangle":    {"triangle", 50, func(k int) float64 { return float64(k%2) * 8 / math.Pow(math.Pi*float64(k), 2) }},
	"pulse, 30 %": {"pulse", 30, pulseSeries(0.30)},
	"pulse, 3 %":  {"pulse", 3, pulseSeries(0.03)},
	"pulse, 95 %": {"pulse", 95, pulseSeries(0.95)},
}

func pulseSeries(width float64) func(k int) float64 {
	return func(k int) float64 { return 4 / (math.Pi * float64(k)) * math.Abs(math.Sin(math.Pi*float64(k)*width)) }
}

// The aim: for the fundamentals of MIDI notes 21 to 127 (27.5 to 12,544 Hz) the
// worst alias line below 20 kHz at least 120 dB under the fundamental, and
// harmonics to 18 kHz within 0.1 dB of the Fourier series.
func TestCornersDoNotAliasAndTheTopIsNotDulled(t *testing.T) {
	for _, rate := range []float64{44100, 48000, 96000} {
		for name := range tones {
			loudest, dullest := math.Inf(-1), 0.0
			for note := 21; note <= 127; note++ {
				hz := 440 * math.Exp2(float64(note-69)/12)
				alias, droop := corners(rate, name, hz)
				if loudest = max(loudest, alias); alias > -120 {
					t.Errorf("%s of %.1f Hz at %g Hz: worst alias %.1f dB re the fundamental; want -120", name, hz, rate, alias)
				}
				if dullest = max(dullest, droop); droop > 0.1 {
					t.Errorf("%s of %.1f Hz at %g Hz: a harmonic is off by %.3f dB; want 0.1 at most", name, hz, rate, droop)
				}
			}
			t.Logf("%-11s at %5g Hz, notes 21 to 127: worst alias %6.1f dB, largest error of a harmonic to 18 kHz %.3f dB", name, rate, loudest, dullest)
		}
	}
}

// lines is a power of 2, so that a prime number of cycles repeats with it only.
const lines = 1 << 14

// corners returns the highest line below 20 kHz that is no harmonic, in dB re
// the fundamental, and the largest error of a harmonic below 18 kHz in dB.
func corners(rate float64, name string, hz float64) (alias, droop float64) {
	tone := tones[name]
	cycles := prime(hz * lines / rate)
	step := rate / lines
	r := rig.NewSetup(Kind(), module.Setup{Rate: rate}).Choose("shape", tone.shape)
	r.Set("frequency", float64(cycles)*step, "Hz").Set("width", tone.width, "%")
	var a float64
	heard := rig.Lines(r.Out("out", lines))
	for i := 1; float64(i)*step < 20000; i++ {
		if i%cycles != 0 {
			a = max(a, heard[i])
			continue
		}
		if want := tone.series(i / cycles); want > 1e-6 && float64(i)*step < 18000 {
			droop = max(droop, math.Abs(rig.DB(heard[i]/want)))
		}
	}
	return rig.DB(a / heard[cycles]), droop
}

// prime returns a prime near x, at least 11.
func prime(x float64) int {
	for n := max(int(x), 11); ; n++ {
		d := 2
		for n%d != 0 {
			d++
		}
		if d == n {
			return n
		}
	}
}

// A width moved by a sine at audio rate makes lines at sums and differences of
// harmonics of the two (Black, Modulation Theory, 1953). Carrier and modulator
// are the third and second multiple of one prime number of cycles, so all of
// these are multiples of it, and whatever folds is not.
func TestMovingWidthDoesNotAlias(t *testing.T) {
	const root = 101 // 296 Hz
	r := rig.New(Kind()).Choose("shape", "pulse").Set("frequency", 3*root*48000.0/lines, "Hz")
	r.Move("width", "%", func(n int) float64 {
		return 50 + 30*math.Sin(2*math.Pi*2*root*float64(n)/lines)
	})
	r.Run(lines) // past the start, before which the width is taken to have stood still
	heard := rig.Lines(r.Out("out", lines))
	var a float64
	for i, y := range heard[:lines*20/48] {
		if i%root != 0 {
			a = max(a, y)
		}
	}
	worst := rig.DB(a / heard[3*root])
	t.Logf("pulse of 888 Hz, width 50 +- 30 %% at 592 Hz: worst alias %.1f dB", worst)
	if worst > -120 {
		t.Errorf("a width moved at audio rate aliases at %.1f dB; want -120", worst)
	}
}

// A frequency moved by a sine at audio rate, 888 Hz +- 800 Hz at 592 Hz.
func TestMovingFrequencyDoesNotAlias(t *testing.T) {
	const root = 101
	for shape, tone := range tones {
		r := rig.New(Kind()).Choose("shape", tone.shape).Set("width", tone.width, "%")
		r.Move("frequency", "Hz", func(n int) float64 {
			return 48000.0 / lines * root * (3 + 2.7*math.Sin(2*math.Pi*2*root*float64(n)/lines))
		})
		r.Run(lines)
		heard := rig.Lines(r.Out("out", lines))
		var a, most float64
		for i, y := range heard[1 : lines*20/48] {
			if most = max(most, y); (i+1)%root != 0 {
				a = max(a, y)
			}
		}
		t.Logf("%s: worst alias %.1f dB re the strongest line", shape, rig.DB(a/most))
		if rig.DB(a/most) > -120 {
			t.Errorf("%s: a frequency moved at audio rate aliases at %.1f dB; want -120", shape, rig.DB(a/most))
		}
	}
}
