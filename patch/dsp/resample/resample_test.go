package resample

import (
	"math"
	"testing"
)

func tone(n int, f float64) []float64 {
	x := make([]float64, n)
	for i := range x {
		x[i] = math.Sin(2 * math.Pi * f * float64(i))
	}
	return x
}

// A sine between its samples is known exactly.
func TestSinesAreReadBetweenTheirSamples(t *testing.T) {
	r := New()
	for _, f := range []float64{0.001, 0.02, 0.1, 0.2, 0.3, 0.375} { // 0.375: 18 kHz at 48 kHz
		x := tone(400, f)
		worst := 0.0
		for place := 50.0; place < 350; place += 0.0917 {
			worst = max(worst, math.Abs(r.At(x, place, 0.5)-math.Sin(2*math.Pi*f*place)))
		}
		t.Logf("%g of the rate: error %.1f dB", f, 20*math.Log10(worst))
		if worst > 1e-5 {
			t.Errorf("a sine of %g of the rate is read with an error of %.1f dB; want -100", f, 20*math.Log10(worst))
		}
	}
}

func TestWholePlacesAreCopied(t *testing.T) {
	r := New()
	x := tone(100, 0.317)
	for i := -40; i < 140; i++ {
		want := 0.0
		if i >= 0 && i < len(x) {
			want = x[i]
		}
		for _, speed := range []float64{0.05, 1} {
			if got := r.At(x, float64(i), speed); got != want {
				t.Fatalf("place %d at speed %g gives %g; want %g", i, speed, got, want)
			}
		}
	}
}

// Read at speed s, a tone of f becomes one of f s. Above half the rate it must
// vanish; well below it must keep its amplitude.
func TestFastReadingFiltersWhatWouldFold(t *testing.T) {
	r := New()
	for _, c := range []struct {
		f, speed, gain float64
	}{
		{0.1, 2, 1}, {0.18, 2, 1}, {0.32, 2, 0}, {0.45, 2, 0}, {0.01, 20, 1}, {0.04, 20, 0}, {0.3, 20, 0}, {0.05, 1.5, 1},
	} {
		x := tone(4000, c.f)
		worst := 0.0
		for place := 1000.0; place < 3000; place += c.speed {
			worst = max(worst, math.Abs(r.At(x, place, c.speed)-c.gain*math.Sin(2*math.Pi*c.f*place)))
		}
		if worst > 1e-4 {
			t.Errorf("%g of the rate at speed %g: off by %.1f dB; want gain %g within -80 dB", c.f, c.speed, 20*math.Log10(worst), c.gain)
		}
	}
}

func TestNowhereIsSilent(t *testing.T) {
	r := New()
	for _, place := range []float64{-1e6, -17, 117, 1e9} {
		for _, speed := range []float64{0.5, 1} {
			if y := r.At(tone(100, 0.1), place, speed); y != 0 {
				t.Errorf("place %g gives %g", place, y)
			}
		}
	}
	if y := r.At(nil, 0, 1); y != 0 {
		t.Errorf("nothing gives %g", y)
	}
}

var sink float64

func BenchmarkAt(b *testing.B) {
	r, x := New(), tone(48000, 0.01)
	for name, speed := range map[string]float64{"half": 0.5, "same": 1, "double": 2, "x20": 20} {
		b.Run(name, func(b *testing.B) {
			place := 500.3
			for b.Loop() {
				sink += r.At(x, place, speed)
				if place += speed; place > 47000 {
					place = 500.3
				}
			}
		})
	}
}
