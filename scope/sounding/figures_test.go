package sounding

import (
	"math"
	"testing"
)

// traced is the curve of a digital filter, closely followed.
func traced(b, a [3]float64, near ...float64) []Point {
	answer := Answer{Samples: biquad(impulse(60000), b, a), Rate: rate}
	return Trace(20, 20000, near, func(hz []float64) []float64 {
		levels := make([]float64, len(hz))
		for i, f := range hz {
			g, _ := answer.At(f)
			levels[i] = DB(g)
		}
		return levels
	})
}

// The bilinear transform leaves the cutoff in its place: a Butterworth low-pass is
// 3.01 dB down there, and falls by 12 dB an octave far above (Butterworth 1930;
// from two to four times the cutoff |H|^2 = 1/(1 + x^4) gives 11.8).
func TestTheEdgeOfALowPassIsItsCutoff(t *testing.T) {
	f := Read(traced(lowPass(500, math.Sqrt2/2, rate)))
	if math.Abs(f.Edges[0]/500-1) > 1e-3 || f.Band {
		t.Errorf("3.01 dB down at %.2f Hz, band %v; want 500 Hz, none", f.Edges[0], f.Band)
	}
	if math.Abs(f.Slope+11.8) > 0.1 {
		t.Errorf("it falls by %.2f dB an octave from %.0f to %.0f Hz", f.Slope, f.SlopeFrom, f.SlopeTo)
	}
}

// A band-pass by the bilinear transform whose centre and Q are f0 and Q is 3.01 dB
// down at f1, f2 with tan(pi f1/rate) tan(pi f2/rate) = tan^2(pi f0/rate), and at
// low frequencies f2 - f1 = f0/Q (Audio EQ Cookbook, W3C Note, 2021).
func TestABandIsReadByWidthAndQ(t *testing.T) {
	for _, q := range []float64{1, 5, 50} {
		w := 2 * math.Pi * 300 / rate
		alpha := math.Sin(w) / 2 / q
		a0 := 1 + alpha
		f := Read(traced([3]float64{alpha / a0, 0, -alpha / a0}, [3]float64{1, -2 * math.Cos(w) / a0, (1 - alpha) / a0}, 300))
		if !f.Band || math.Abs(f.Q/q-1) > 2e-3 || math.Abs(f.Width/(300/q)-1) > 2e-3 || math.Abs(f.Highest.X-300) > 0.1 {
			t.Errorf("of 300 Hz with Q %g it reads %+v", q, f)
		}
	}
}

// A narrow peak far from every usual place keeps its height: of a resonant
// low-pass it is Q/sqrt(1 - 1/(4 Q^2)) (the second-order system of the handbooks).
func TestANarrowPeakKeepsItsHeight(t *testing.T) {
	const q = 200.0
	b, a := lowPass(777.7, q, rate)
	f := Read(traced(b, a, 777.7))
	if want := 20 * math.Log10(q/math.Sqrt(1-1/(4*q*q))); math.Abs(f.Highest.Y-want) > 0.01 {
		t.Errorf("the peak reads %.3f dB; want %.3f dB", f.Highest.Y, want)
	}
}
