package rig

import (
	"math"
	"math/cmplx"
	"testing"

	"gonum.org/v1/gonum/dsp/fourier"
)

// DB is 20 log10 |x|.
func DB(x float64) float64 { return 20 * math.Log10(math.Abs(x)) }

// Lines returns the amplitudes of the lines of x, without a window: line k has
// k cycles in len(x) samples, and a sine of amplitude 1 reads 1.
func Lines(x []float64) []float64 {
	c := fourier.NewFFT(len(x)).Coefficients(nil, x)
	out := make([]float64, len(c))
	for i := range c {
		out[i] = 2 * cmplx.Abs(c[i]) / float64(len(x))
	}
	out[0] /= 2
	return out
}

// RMS returns the root of the mean square of x.
func RMS(x []float64) float64 {
	var sum float64
	for _, v := range x {
		sum += v * v
	}
	return math.Sqrt(sum / float64(len(x)))
}

// Sine is a signal of that frequency in Hz, at 48 kHz.
func Sine(hz float64) Wave {
	return func(n int) float64 { return math.Sin(2 * math.Pi * hz * float64(n) / 48000) }
}

// Impulse is 1 at sample 0.
func Impulse(n int) float64 {
	if n == 0 {
		return 1
	}
	return 0
}

// Bench measures one block's cost again and again and reports it per sample;
// the controls and inputs are those of the first block after a second's run.
func (r *Rig) Bench(b *testing.B) { r.Cost(b) }

// Cost is Bench, and returns the nanoseconds that a sample takes.
func (r *Rig) Cost(b *testing.B) float64 {
	r.Run(int(r.Setup.Rate))
	block := r.Fill(64)
	b.ReportAllocs()
	taken := Taken(func() {
		for b.Loop() {
			r.Sound.Block(block)
		}
	})
	ns := float64(taken.Nanoseconds()) / float64(b.N*block.N)
	b.ReportMetric(ns, "ns/sample")
	return ns
}
