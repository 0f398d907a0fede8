package oversample

import (
	"math"
	"testing"
)

// through sends a sine of f (of the rate) up and down and returns its gain in dB.
func through(factor int, f float64) float64 {
	c := New(factor)
	var high [8]float64
	re, im := 0.0, 0.0
	for n := range 2000 {
		sin, cos := math.Sincos(2 * math.Pi * f * float64(n))
		c.Up(sin, &high)
		y := c.Down(&high)
		if n >= 1000 {
			re += y * sin / 500
			im += y * cos / 500
		}
	}
	return 20 * math.Log10(math.Hypot(re, im))
}

func TestUpAndDownIsFlat(t *testing.T) {
	for _, factor := range []int{2, 4, 8} {
		for _, f := range []float64{0.01, 0.1, 0.25, 0.35, 0.4, 0.416} {
			if db := through(factor, f); math.Abs(db) > 1e-4 {
				t.Errorf("x%d: %g of the rate is at %.6f dB", factor, f, db)
			}
		}
	}
}

// A tone of the higher rate that would fold below 0.416 of the rate is gone.
func TestWhatWouldFoldIsGone(t *testing.T) {
	for _, factor := range []int{2, 4, 8} {
		worst := 0.0
		for f := 1 - 0.416; f < float64(factor)/2; f += 0.0137 {
			if g := math.Mod(f, 1); g > 0.416 && g < 1-0.416 {
				continue // it comes back above 20 kHz
			}
			c := New(factor)
			var high [8]float64
			for n := range 400 {
				for i := range factor {
					high[i] = math.Sin(2*math.Pi*f*float64(n*factor+i)/float64(factor) + 1)
				}
				if y := c.Down(&high); n > 150 {
					worst = max(worst, math.Abs(y))
				}
			}
		}
		t.Logf("x%d: %.1f dB", factor, 20*math.Log10(worst))
		if db := 20 * math.Log10(worst); db > -120 {
			t.Errorf("x%d: what folds is only %.1f dB down", factor, db)
		}
	}
}

// And a tone brought up has no images.
func TestNoImages(t *testing.T) {
	for _, factor := range []int{2, 4, 8} {
		for _, f := range []float64{0.0371, 0.2113, 0.416} {
			c := New(factor)
			var high [8]float64
			worst, late := 0.0, float64(Latency(factor))/2
			for n := range 600 {
				c.Up(math.Sin(2*math.Pi*f*float64(n)), &high)
				for i := range factor {
					if n > 200 {
						want := math.Sin(2 * math.Pi * f * (float64(n*factor+i) - late) / float64(factor))
						worst = max(worst, math.Abs(high[i]-want))
					}
				}
			}
			if db := 20 * math.Log10(worst); db > -114 {
				t.Errorf("x%d, %g of the rate: off by %.1f dB from the tone, Latency/2 late", factor, f, db)
			}
		}
	}
}

// Linear phase: an impulse comes out symmetric around Latency (a whole number for
// x2; for x4 and x8 its parts are counted in samples of the higher rate).
func TestLatencyIsTheMiddleOfTheImpulse(t *testing.T) {
	for _, factor := range []int{2, 4, 8} {
		c := New(factor)
		var high [8]float64
		sum, moment := 0.0, 0.0
		for n := range 300 {
			x := 0.0
			if n == 0 {
				x = 1
			}
			c.Up(x, &high)
			y := c.Down(&high)
			sum += y
			moment += y * float64(n)
		}
		if want := float64(Latency(factor)) / float64(factor); math.Abs(moment/sum-want) > 1e-6 || math.Abs(sum-1) > 1e-6 {
			t.Errorf("x%d: weight %g around %g; want 1 around %g", factor, sum, moment/sum, want)
		}
	}
}

func BenchmarkUpAndDown(b *testing.B) {
	for name, factor := range map[string]int{"x2": 2, "x4": 4, "x8": 8} {
		b.Run(name, func(b *testing.B) {
			c := New(factor)
			var high [8]float64
			for b.Loop() {
				c.Up(0.3, &high)
				c.Down(&high)
			}
		})
	}
}
