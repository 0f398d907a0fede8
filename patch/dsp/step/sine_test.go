package step

import (
	"math"
	"testing"
)

// window is what a low-pass so long reaches around the middle.
func window(dst *[Points]float64, length int) []float64 {
	return dst[Delay-length/2 : Delay+length/2]
}

// At 0 Hz a broken cosine is a jump.
func TestABrokenCosineOf0HzIsAJump(t *testing.T) {
	for late := 0.0; late < 1; late += 0.0371 {
		var jump, sine [Points]float64
		Load(48000).Jump(&jump, late, 2)
		LoadSines(48000).Break(window(&sine, 28), late, 0, 2, 0)
		for k := range jump {
			if math.Abs(jump[k]-sine[k]) > 1e-7 {
				t.Errorf("late %g: point %d is %g; a jump is %g", late, k, sine[k], jump[k])
			}
		}
	}
}

// The integral over the low-pass, directly: the derivative of the table's jump
// is h.
func TestABrokenSineIsTheLowPassOverASharpOne(t *testing.T) {
	table := Load(48000)
	jump := func(i int) float64 { // up to time i/rows - Delay
		i -= (Delay - 14) * rows
		if i < 0 {
			return 0
		}
		k, j := i/rows, i%rows
		if k >= 28 {
			return 1
		}
		if y := table.row(0, j)[k]; k < 14 {
			return y
		} else {
			return y + 1
		}
	}
	for _, w := range []float64{0.01, -0.3, 0.7, 1.64, -2.2} {
		var got [Points]float64
		const j = 300
		LoadSines(48000).Break(window(&got, 28), float64(j)/rows, w, 0.6, -1.1)
		for k := range Points {
			x := float64(k-Delay) + float64(j)/rows
			var want float64
			for i := 1; i <= k*rows+j; i++ {
				v := (float64(i)-0.5)/rows - Delay
				sin, cos := math.Sincos(w * (x - v))
				want += (jump(i) - jump(i-1)) * (0.6*cos - 1.1*sin)
			}
			want /= table.Passes(w / (2 * math.Pi))
			if k >= Delay {
				sin, cos := math.Sincos(w * x)
				want -= 0.6*cos - 1.1*sin
			}
			if math.Abs(got[k]-want) > 2e-6 {
				t.Errorf("w %g, point %d: %g; the integral is %g", w, k, got[k], want)
			}
		}
	}
}

func BenchmarkBrokenSine(b *testing.B) {
	table := LoadSines(48000)
	var dst [28]float64
	late := 0.0
	for b.Loop() {
		table.Break(dst[:], late, 0.3, -1, 0.5)
		if late += 0.137; late > 1 {
			late--
		}
	}
}
