package pink

import (
	"math"
	"testing"
)

// Pink noise has equal power in every octave: power ~ 1/f, -3.0103 dB an octave.
func TestResponseKeepsTheSlope(t *testing.T) {
	for _, rate := range []float64{8000, 22050, 44100, 48000, 88200, 96000, 176400, 192000, 384000} {
		f := Design(rate, 1)
		worst := 0.0
		for hz := 20.0; hz < min(20000, 0.45*rate); hz *= 1.001 {
			worst = max(worst, math.Abs(10*math.Log10(f.Power(hz/rate)*hz/1000)))
		}
		t.Logf("%6.0f Hz: %d poles, within %.4f dB of the slope", rate, f.n, worst)
		if !(worst < 0.005) {
			t.Errorf("at %g Hz the response is %.4f dB off the slope; want 0.005 at most", rate, worst)
		}
	}
}

// The running filter is the one whose response is computed: its impulse
// response, transformed at single frequencies, has that power.
func TestImpulseResponseHasTheComputedPower(t *testing.T) {
	f := Design(48000, 1)
	h := make([]float64, 1<<16)
	for i := range h {
		x := 0.0
		if i == 0 {
			x = 1
		}
		h[i] = f.Next(x)
	}
	for _, hz := range []float64{20, 100, 1000, 5000, 12000, 20000} {
		var re, im float64
		for i, y := range h {
			sin, cos := math.Sincos(2 * math.Pi * hz / 48000 * float64(i))
			re += y * cos
			im -= y * sin
		}
		if d := 10 * math.Log10((re*re+im*im)/f.Power(hz/48000)); math.Abs(d) > 1e-4 {
			t.Errorf("at %g Hz the impulse response is %.6f dB off the computed power", hz, d)
		}
	}
}

func BenchmarkNext(b *testing.B) {
	f := Design(48000, 1)
	x := 0.1
	for b.Loop() {
		x = -x
		f.Next(x)
	}
}

func BenchmarkDesign(b *testing.B) {
	for b.Loop() {
		Design(48000, 1)
	}
}
