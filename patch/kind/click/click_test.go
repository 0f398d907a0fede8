package click

import (
	"math"
	"testing"

	"lampblack/patch/kind/rig"
	"lampblack/patch/module"
)

// at triggers once, at sample 100.
func at(shape string, rate float64) *rig.Rig {
	return rig.NewSetup(Kind(), module.Setup{Rate: rate}).Choose("shape", shape).Feed("trigger", once(100))
}

func once(at int) rig.Wave {
	return func(n int) float64 {
		if n == at || n == at+1 { // high for two samples: one click all the same
			return 1
		}
		return 0
	}
}

func TestImpulseIsOneSampleOfOne(t *testing.T) {
	for _, c := range []struct {
		polarity string
		want     float64
	}{{"up", 1}, {"down", -1}} {
		for i, y := range at("impulse", 48000).Choose("polarity", c.polarity).Out("out", 1000) {
			if want := c.want * b2f(i == 100); y != want {
				t.Fatalf("%s: sample %d is %g; want %g", c.polarity, i, y, want)
			}
		}
	}
	half := at("impulse", 48000).Set("level", -20, "dB").Out("out", 200)[100]
	if math.Abs(half-0.1) > 1e-15 {
		t.Errorf("at -20 dB the impulse is %g; want 0.1", half)
	}
}

func b2f(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// A note that is played gives a click without any cord.
func TestLeftOpenItFollowsTheNote(t *testing.T) {
	if y := rig.New(Kind()).Note(10, 500).Out("out", 100)[10]; y != 1 {
		t.Errorf("at the note's start the output is %g; want 1", y)
	}
}

// The Fourier transform of a raised cosine of length T is
// sin(pi f T)/(pi f T) / (1 - (f T)^2) times T/2: half at 1/T, 0 at 2/T, 3/T ...
// Side lobes are at -31.5 dB (Harris 1978). Sampling at 48 kHz adds what folds.
func TestPulseHasTheSpectrumOfARaisedCosine(t *testing.T) {
	const T = 0.001
	lines := rig.Lines(at("pulse", 48000).Set("duration", T, "s").Out("out", 48000))
	full := 2 * T / 2 * 48000 / 48000 // amplitude of a line at 0 Hz: 2/N times sum
	for _, hz := range []float64{100, 500, 1500, 2500, 3500, 7500} {
		x := hz * T
		want := math.Abs(math.Sin(math.Pi*x)/(math.Pi*x)/(1-x*x)) * full
		if db := rig.DB(lines[int(hz)] / want); math.Abs(db) > 0.05 {
			t.Errorf("at %g Hz the pulse is %+.3f dB off its formula", hz, db)
		}
	}
	if db := rig.DB(lines[1000] / full); math.Abs(db+6.0206) > 0.01 {
		t.Errorf("at 1/T the pulse is at %.3f dB; want -6.021", db)
	}
	worst := 0.0
	for hz := 2000; hz < 24000; hz++ {
		worst = max(worst, lines[hz])
	}
	t.Logf("from 2/T on: %.2f dB", rig.DB(worst/full))
	if db := rig.DB(worst / full); math.Abs(db+31.47) > 0.1 {
		t.Errorf("side lobes are at %.2f dB; want -31.47", db)
	}
}

// However short, a pulse is there: two samples at least, so one of them is 1.
func TestTheShortestPulsePeaksAtOne(t *testing.T) {
	for _, rate := range []float64{8000, 48000} {
		x := at("pulse", rate).Set("duration", 0.00002, "s").Out("out", 200)
		if x[101] != 1 || x[100] != 0 || x[102] != 0 {
			t.Errorf("at %g Hz the shortest pulse is %v; want 0 1 0", rate, x[100:103])
		}
	}
}

// sin(2 pi f t) 10^(-3 t/T), straight from the formula.
func TestToneIsTheStruckToneOfItsFormula(t *testing.T) {
	for _, c := range []struct{ f, T float64 }{{1000, 0.02}, {50, 0.02}, {12000, 0.005}, {20000, 0.00002}} {
		x := at("tone", 48000).Set("frequency", c.f, "Hz").Set("duration", c.T, "s").Out("out", 20000)
		for i := range 5000 {
			s := float64(i) / 48000
			want := math.Sin(2*math.Pi*c.f*s) * math.Pow(10, -3*s/c.T)
			if math.Abs(x[100+i]-want) > 1e-11 {
				t.Fatalf("%g Hz, %g s: sample %d is %g; want %g", c.f, c.T, i, x[100+i], want)
			}
		}
		if y := rig.RMS(x[15000:]); y != 0 {
			t.Errorf("%g Hz, %g s: not silent after 0.3 s: rms %g", c.f, c.T, y)
		}
	}
}

// What folds is the part of the tone's own spectrum, w0/|(a + jw)^2 + w0^2|,
// that lies beyond half the rate: the difference of a line from that formula.
func TestWhatFoldsOfAToneIsWeak(t *testing.T) {
	const f, T = 1000.0, 0.005
	lines := rig.Lines(at("tone", 48000).Set("frequency", f, "Hz").Set("duration", T, "s").Out("out", 48000))
	w0, a := 2*math.Pi*f, 3*math.Ln10/T
	peak, worst := 0.0, 0.0
	for hz := 1.0; hz < 20000; hz++ {
		w := 2 * math.Pi * hz
		want := 2 * w0 / math.Hypot(a*a-w*w+w0*w0, 2*a*w)
		peak = max(peak, want)
		worst = max(worst, math.Abs(lines[int(hz)]-want))
	}
	t.Logf("folded below 20 kHz: %.1f dB re the peak of the spectrum", rig.DB(worst/peak))
	if rig.DB(worst/peak) > -60 {
		t.Errorf("what folds is at %.1f dB; the help says -60", rig.DB(worst/peak))
	}
}

// Clicks that overlap add up: a train is the sum of single ones.
func TestOverlappingClicksAddUp(t *testing.T) {
	single := at("tone", 48000).Set("duration", 0.01, "s").Out("out", 2000)
	train := rig.New(Kind()).Choose("shape", "tone").Set("duration", 0.01, "s").Feed("trigger", func(n int) float64 {
		return b2f(n == 100 || n == 200 || n == 350)
	}).Out("out", 2000)
	for i := 350; i < 1750; i++ {
		want := single[i] + single[i-100] + single[i-250]
		if math.Abs(train[i]-want) > 1e-12 {
			t.Fatalf("sample %d is %g; the sum of single clicks is %g", i, train[i], want)
		}
	}
}

func BenchmarkClick(b *testing.B) {
	b.Run("idle", rig.New(Kind()).Bench)
	for _, shape := range []string{"impulse", "pulse", "tone"} {
		b.Run(shape, rig.New(Kind()).Choose("shape", shape).Set("duration", 0.02, "s").
			Feed("trigger", func(n int) float64 { return b2f(n%64 == 0) }).Bench)
	}
}
