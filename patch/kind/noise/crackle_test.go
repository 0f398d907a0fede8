package noise

import (
	"math"
	"testing"

	"lampblack/patch/kind/rig"
	"lampblack/patch/module"
)

func crackles(rate, density float64, n int) []float64 {
	return rig.NewSetup(Kind(), module.Setup{Rate: rate, Seed: 5}).Choose("colour", "crackle").Set("density", density, "Hz").Out("out", n)
}

// Ticks that do not overlap: their peaks, by the sample.
func peaks(x []float64) (at []int, height []float64) {
	for i := 1; i+1 < len(x); i++ {
		if a := math.Abs(x[i]); a > math.Abs(x[i-1]) && a >= math.Abs(x[i+1]) && a > 0 {
			at, height = append(at, i), append(height, x[i])
		}
	}
	return at, height
}

// Poisson's law: in T seconds there are D T ticks, give or take the root of
// that; counts of equal stretches have a variance equal to their mean; the gaps
// are exponential, so that the part of them below the mean is 1 - 1/e.
func TestTicksComeByPoissonsLaw(t *testing.T) {
	const rate, density, seconds = 48000, 100, 300
	at, height := peaks(crackles(rate, density, seconds*rate))
	n := float64(len(at))
	t.Logf("%g ticks in %d s at %d Hz", n, seconds, density)
	// Ticks within 0.15 ms of each other are one peak: up to 1.5 % of them at 100 Hz.
	if want := float64(density * seconds); math.Abs(n-want) > 4*math.Sqrt(want)+0.015*want {
		t.Errorf("%g ticks; want %g", n, want)
	}
	var counts [seconds]float64
	short, up := 0.0, 0.0
	for i, a := range at {
		counts[a/rate]++
		if i > 0 && float64(a-at[i-1]) < rate*seconds/n {
			short++
		}
		if height[i] > 0 {
			up++
		}
	}
	var variance float64
	for _, c := range counts {
		variance += (c - n/seconds) * (c - n/seconds)
	}
	dispersion := variance / n // of 300 counts: 1 within 4 sqrt(2/300)
	t.Logf("variance of the counts over their mean %.3f, gaps below the mean %.4f, upwards %.4f", dispersion, short/n, up/n)
	if math.Abs(dispersion-1) > 0.33 {
		t.Errorf("variance over mean is %.3f; want 1", dispersion)
	}
	if math.Abs(short/n-(1-1/math.E)) > 4*0.48/math.Sqrt(n)+0.005 {
		t.Errorf("%.4f of the gaps are below the mean; want %.4f", short/n, 1-1/math.E)
	}
	if math.Abs(up/n-0.5) > 2/math.Sqrt(n) {
		t.Errorf("%.4f of the ticks go up; want a half", up/n)
	}
	// Peaks: even in dB from -40 to 0.
	for _, db := range []float64{-35, -30, -20, -10, -5} {
		below := 0.0
		for _, h := range height {
			if rig.DB(h) < db {
				below++
			}
		}
		if want := (db + 40) / 40; math.Abs(below/n-want) > 2/math.Sqrt(n)+0.005 {
			t.Errorf("%.4f of the ticks are below %g dB; want %.4f", below/n, db, want)
		}
	}
	// None is outside, but where two overlap.
	outside := 0.0
	for _, h := range height {
		if math.Abs(h) < 0.01 || math.Abs(h) > 1 {
			outside++
		}
	}
	if outside/n > 0.01 {
		t.Errorf("%g ticks of %g are below 0.01 or above 1", outside, n)
	}
}

// Separate ticks of a density D have a one-sided power of 2 D E(a^2) |S(f)|^2 per Hz
// (Campbell's theorem), at every rate: E(a^2) = (1 - 10^-4)/(4 ln 10), and S of
// Blackman's window of length T is 0.42 T at 0 Hz, nothing at 3/T = 20 kHz.
func TestCrackleSoundsAlikeAtEveryRate(t *testing.T) {
	const density, seconds = 2000, 10
	for _, rate := range []float64{44100, 48000, 96000, 192000} {
		d := densityOf(crackles(rate, density, seconds*int(rate)), rate)
		want := 2 * density * (1 - 1e-4) / (4 * math.Ln10) * math.Pow(0.42*tickSeconds, 2)
		low := 10 * math.Log10(mean(d, rate, 100, 500)/want)
		top := 10 * math.Log10(mean(d, rate, 20000, rate/2.001)/want)
		t.Logf("%6.0f Hz: %+.3f dB re Campbell's theorem from 100 to 500 Hz; %.1f dB above 20 kHz", rate, low, top)
		// The scatter of 20,000 squares that are spread over 40 dB is 0.07 dB.
		if math.Abs(low) > 0.28 {
			t.Errorf("at %g Hz crackle is %+.3f dB off", rate, low)
		}
		if top > -55 {
			t.Errorf("at %g Hz crackle has %.1f dB above 20 kHz; want -55", rate, top)
		}
	}
}

func densityOf(x []float64, rate float64) []float64 { return density(x, 8192, rate) }

// The density follows a cord sample by sample: twice as dense, twice as many.
func TestDensityMoves(t *testing.T) {
	x := rig.New(Kind()).Choose("colour", "crackle").Move("density", "Hz", func(n int) float64 {
		if n < 480000 {
			return 10
		}
		return 1000
	}).Out("out", 960000)
	few, _ := peaks(x[:480000])
	many, _ := peaks(x[480000:])
	if len(few) < 60 || len(few) > 140 || len(many) < 9000 || len(many) > 10500 {
		t.Errorf("%d ticks in 10 s at 10 Hz, %d at 1000 Hz", len(few), len(many))
	}
}
