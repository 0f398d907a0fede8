package oscillator

import (
	"math"
	"testing"

	"lampblack/patch/kind/rig"
)

// folded is the strongest line below 20 kHz that folding brings into a sine
// modulated at so many times 48 kHz, in dB re the carrier. All lines that belong
// there are multiples of root, a prime number of cycles in 2^14 samples at 48 kHz.
func folded(carrier, modulator, root int, index float64, factor int) float64 {
	n := lines * factor
	x := make([]float64, n)
	for i := range x {
		turn := func(cycles int) float64 { return 2 * math.Pi * float64(cycles*i%n) / float64(n) }
		x[i] = math.Sin(turn(carrier*root) + index*math.Sin(turn(modulator*root)))
	}
	worst := 0.0
	for i, a := range rig.Lines(x)[:lines*20/48] {
		if i%root != 0 {
			worst = max(worst, a)
		}
	}
	return rig.DB(worst)
}

// The sine is computed by the library at the finer rate, as if what follows it cut
// off at 20 kHz perfectly.
func TestFineFactorIsEnoughAndNotTooMuch(t *testing.T) {
	enough, less, cases := 0, 0, 0
	for _, root := range []int{37, 101, 167, 331, 503} {
		for _, ratio := range [][2]int{{1, 1}, {3, 2}, {1, 4}, {5, 1}, {2, 7}} {
			for _, index := range []float64{0.5, 1, 3, 6, 10, 15, 20, 40} {
				step := 48000.0 / lines * float64(root)
				fc, fm := float64(ratio[0])*step, float64(ratio[1])*step
				factor := FineFactor(fc, fm, index, 48000)
				if factor == 8 {
					continue // nothing finer to choose
				}
				cases++
				if db := folded(ratio[0], ratio[1], root, index, factor); db > -119.9 {
					t.Errorf("%.0f Hz by %.0f Hz, index %g: at %d times the rate a line of %.1f dB folds", fc, fm, index, factor, db)
				} else {
					enough++
				}
				if factor > 1 && folded(ratio[0], ratio[1], root, index, factor/2) < -120 {
					less++
				}
			}
		}
	}
	t.Logf("of %d cases %d are below -120 dB; in %d half the factor would have done", cases, enough, less)
	if less*10 > cases {
		t.Errorf("in %d of %d cases half the factor would have done", less, cases)
	}
}

func TestFineFactorOfKnownCases(t *testing.T) {
	for _, c := range []struct {
		carrier, modulator, index float64
		want                      int
		reason                    string
	}{
		{440, 440, 2, 1, "few lines"},
		{1455, 1455, 10, 2, "measured: -66 dB at the rate, below -120 at twice the rate"},
		{1455, 1455, 20, 2, "measured: +2 dB at the rate, -121 at twice the rate"},
		{20000, 20000, 100, 8, "the finest there is"},
		{-1455, 1455, -10, 2, "signs do not matter"},
		{19000, 20000, 0, 1, "no modulation"},
	} {
		if got := FineFactor(c.carrier, c.modulator, c.index, 48000); got != c.want {
			t.Errorf("%g Hz by %g Hz, index %g: %d; want %d (%s)", c.carrier, c.modulator, c.index, got, c.want, c.reason)
		}
	}
}
