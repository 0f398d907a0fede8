package ring

import (
	"math"
	"testing"

	"lampblack/patch/dsp/approx"
	"lampblack/patch/kind/rig"
)

// sine is exactly periodic in a second, so that what the line test finds is the
// multiplier's and not the test's own argument rounded.
func sine(hz int) rig.Wave {
	return func(n int) float64 { return approx.Sine(float64(n*hz%48000) / 48000) }
}

// cos a cos b = (cos(a-b) + cos(a+b))/2; amplitude modulation by any textbook.
func TestLinesAreThoseOfTheIdentity(t *testing.T) {
	for _, c := range []struct {
		name            string
		signal, carrier int
		leak            float64
		want            map[int]float64
	}{
		{"balanced: sum and difference", 100, 440, 0, map[int]float64{340: 0.5, 540: 0.5}},
		{"either way round", 440, 100, 0, map[int]float64{340: 0.5, 540: 0.5}},
		{"equal tones: twice the frequency, and a steady voltage", 440, 440, 0, map[int]float64{0: 0.5, 880: 0.5}},
		{"m = 1: sidebands 6.021 dB down", 100, 440, 100, map[int]float64{340: 0.5, 440: 1, 540: 0.5}},
		{"m = 0.5: sidebands 12.041 dB down", 100, 440, 200, map[int]float64{340: 0.5, 440: 2, 540: 0.5}},
		{"the sum folds at half the sample rate", 13000, 15000, 0, map[int]float64{2000: 0.5, 20000: 0.5}},
	} {
		y := rig.New(Kind()).Set("leak", c.leak, "%").Feed("signal", sine(c.signal)).Feed("carrier", sine(c.carrier)).Out("out", 48000)
		rest := 0.0
		for hz, a := range rig.Lines(y) {
			want, ok := c.want[hz]
			if ok && math.Abs(a-want) > 1e-12 {
				t.Errorf("%s: line at %d Hz is %.15f; want %g", c.name, hz, a, want)
			}
			if !ok {
				rest = max(rest, a)
			}
		}
		t.Logf("%s: no other line above %.1f dB", c.name, rig.DB(rest))
		if rig.DB(rest) > -200 {
			t.Errorf("%s: another line is at %.1f dB", c.name, rig.DB(rest))
		}
	}
}

func TestAllFourQuadrants(t *testing.T) {
	for _, a := range []float64{-0.75, -0.5, 0, 0.5, 1} {
		for _, b := range []float64{-1, -0.25, 0, 0.25} {
			y := rig.New(Kind()).Feed("signal", func(int) float64 { return a }).Feed("carrier", func(int) float64 { return b }).Out("out", 1)
			if y[0] != a*b {
				t.Errorf("%g x %g is %g", a, b, y[0])
			}
		}
	}
}

func TestLeakMayMoveWithEverySample(t *testing.T) {
	y := rig.New(Kind()).Move("leak", "%", func(n int) float64 { return float64(n % 200) }).Feed("carrier", sine(440)).Out("out", 1000)
	for n := range y {
		if want := sine(440)(n) * float64(n%200) / 100; math.Abs(y[n]-want) > 1e-15 {
			t.Fatalf("sample %d is %g; want %g", n, y[n], want)
		}
	}
}

func BenchmarkRing(b *testing.B) {
	rig.New(Kind()).Feed("signal", sine(100)).Feed("carrier", sine(440)).Bench(b)
}
