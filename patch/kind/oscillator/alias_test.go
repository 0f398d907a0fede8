package oscillator

import (
	"math"
	"testing"

	"lampblack/patch/kind/rig"
)

// The claim of the issue at 48 kHz, fundamentals of 27.5 to 12,544 Hz: the worst
// alias line below 20 kHz at least 120 dB under the fundamental, and at most 0.1
// dB of droop at 18 kHz. The harmonics are those of the Fourier series.
func TestCornersDoNotAliasAndTheTopIsNotDulled(t *testing.T) {
	const n = 1 << 16 // lines 0.73 Hz apart; prime numbers of cycles keep aliases apart from harmonics
	shapes := map[string]func(k int) float64{
		"saw":      func(k int) float64 { return 2 / (math.Pi * float64(k)) },
		"triangle": func(k int) float64 { return float64(k%2) * 8 / math.Pow(math.Pi*float64(k), 2) },
		"pulse":    func(k int) float64 { return 4 / (math.Pi * float64(k)) * math.Abs(math.Sin(math.Pi*float64(k)*0.3)) },
	}
	for shape, series := range shapes {
		for _, cycles := range []int{37, 151, 601, 1429, 2861, 5717, 11437, 17123} {
			hz := float64(cycles) * 48000 / n
			r := rig.New(Kind()).Choose("shape", shape).Set("frequency", hz, "Hz").Set("width", 30, "%")
			lines := rig.Lines(r.Out("out", n))
			alias, droop := worst(lines, cycles, series)
			t.Logf("%-8s %8.1f Hz: worst alias %7.1f dB, largest error of a harmonic to 18 kHz %6.3f dB", shape, hz, alias, droop)
			if alias > -120 {
				t.Errorf("%s at %.1f Hz: worst alias below 20 kHz is %.1f dB re the fundamental; want -120 or less", shape, hz, alias)
			}
			if droop > 0.1 {
				t.Errorf("%s at %.1f Hz: a harmonic below 18 kHz is off by %.3f dB; want 0.1 or less", shape, hz, droop)
			}
		}
	}
}

// worst returns the highest line below 20 kHz that is no harmonic, in dB re the
// fundamental, and the largest error of a harmonic below 18 kHz in dB.
func worst(lines []float64, cycles int, series func(k int) float64) (alias, droop float64) {
	hz := 24000 / float64(len(lines)-1)
	var a float64
	for i := 1; float64(i)*hz < 20000; i++ {
		if i%cycles != 0 {
			a = max(a, lines[i])
			continue
		}
		if want := series(i / cycles); want > 1e-6 && float64(i)*hz < 18000 {
			droop = max(droop, math.Abs(rig.DB(lines[i]/want)))
		}
	}
	return rig.DB(a / lines[cycles]), droop
}
