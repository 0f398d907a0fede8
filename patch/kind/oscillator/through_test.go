package oscillator

import (
	"math"
	"testing"

	"lampblack/patch/kind/rig"
)

// worstAlias is the highest line of x below 20 kHz that is no multiple of root,
// in dB re the strongest that is.
func worstAlias(x []float64, root int) float64 {
	heard := rig.Lines(x)
	var a, most float64
	for i, y := range heard[1 : len(x)*20/48] {
		if (i+1)%root != 0 {
			a = max(a, y)
		} else {
			most = max(most, y)
		}
	}
	return rig.DB(a / most)
}

// Carrier and modulator are the third and second multiple of one prime number of
// cycles, so that all lines of the ideal sound are multiples of it, and whatever
// folds is not. At index 4 the frequency goes 8/3 of the carrier to either side,
// far through 0.
func TestThroughZeroModulationDoesNotAlias(t *testing.T) {
	for shape, tone := range tones {
		for _, root := range []int{11, 47, 101, 251, 503} {
			for _, index := range []float64{1, 4} {
				f := float64(root) * 48000 / lines
				make := func() *rig.Rig {
					return rig.New(Kind()).Choose("shape", tone.shape).Set("width", tone.width, "%").Set("frequency", 3*f, "Hz")
				}
				fm := make().Move("shift", "Hz", func(n int) float64 {
					return index * 2 * f * math.Cos(2*math.Pi*2*float64(root)*float64(n)/lines)
				})
				pm := make().Move("phase", "deg", func(n int) float64 {
					return index * 180 / math.Pi * math.Sin(2*math.Pi*2*float64(root)*float64(n)/lines)
				})
				fm.Run(lines)
				pm.Run(lines)
				through, phase := worstAlias(fm.Out("out", lines), root), worstAlias(pm.Out("out", lines), root)
				t.Logf("%-11s of %5.0f Hz by %5.0f Hz, index %g: worst alias %6.1f dB through zero, %6.1f dB by phase", shape, 3*f, 2*f, index, through, phase)
				if want := cleanTo(tone.shape, root); through > want || phase > want {
					t.Errorf("%s of %.0f Hz by %.0f Hz, index %g aliases at %.1f and %.1f dB; want %g", shape, 3*f, 2*f, index, through, phase, want)
				}
			}
		}
	}
}

// cleanTo is what is reached: -120 dB, but less for a triangle by a modulator of 2.9
// kHz, which moves the frequency by 12 kHz: more than its four derivatives that are
// mended change at the corners.
func cleanTo(shape string, root int) float64 {
	if root > 300 && shape == "triangle" {
		return -105
	}
	return -120
}
