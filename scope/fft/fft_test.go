package fft

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/dsp/fourier"
)

// noise returns n seeded numbers of -1 to 1.
func noise(n int) []float64 {
	random, x := rand.New(rand.NewPCG(1, uint64(n))), make([]float64, n)
	for i := range x {
		x[i] = 2*random.Float64() - 1
	}
	return x
}

func transform(x []float64) (re, im []float64) {
	re, im = make([]float64, len(x)/2+1), make([]float64, len(x)/2+1)
	New(len(x)).Transform(re, im, x)
	return re, im
}

// gonum's transform is a translation of FFTPACK (Swarztrauber, 1982).
func TestTransformIsThatOfGonum(t *testing.T) {
	for _, n := range []int{2, 3, 5, 8, 16, 32, 64, 100, 128, 256, 512, 1000, 1024, 2048, 4095, 4096, 8192, 16384, 32768, 65536} {
		x := noise(n)
		re, im := transform(x)
		largest, worst := 0.0, 0.0
		for k, want := range fourier.NewFFT(n).Coefficients(nil, x) {
			largest = max(largest, math.Hypot(real(want), imag(want)))
			worst = max(worst, math.Hypot(re[k]-real(want), im[k]-imag(want)))
		}
		t.Logf("%d: error %.2g of the largest line", n, worst/largest)
		if worst > 1e-12*largest {
			t.Errorf("%d numbers: differs from gonum by %.2g of the largest line; allowed is 1e-12", n, worst/largest)
		}
	}
}

// One line at a time: a cosine of amplitude 1 has n/2 on its own line, and
// nothing elsewhere; the formula of the transform.
func TestLinesStandAlone(t *testing.T) {
	const n = 64
	for line := range n/2 + 1 {
		x := make([]float64, n)
		for i := range x {
			x[i] = math.Cos(2*math.Pi*float64(line*i)/n - 0.7)
		}
		re, im := transform(x)
		for k := range re {
			wantRe, wantIm := 0.0, 0.0
			if k == line {
				wantRe, wantIm = n/2*math.Cos(0.7), -n/2*math.Sin(0.7)
			}
			if k == line && (k == 0 || k == n/2) {
				wantRe, wantIm = n*math.Cos(0.7), 0
			}
			if math.Hypot(re[k]-wantRe, im[k]-wantIm) > 1e-12 {
				t.Errorf("line %d of cosine %d is %g %+g j; want %g %+g j", k, line, re[k], im[k], wantRe, wantIm)
			}
		}
	}
}

// Parseval's theorem: the squares of the numbers and of their lines agree.
func TestSquaresAgree(t *testing.T) {
	x := noise(16384)
	re, im := transform(x)
	time, lines := 0.0, 0.0
	for _, v := range x {
		time += v * v
	}
	for k := range re {
		p := re[k]*re[k] + im[k]*im[k]
		if k > 0 && k < len(re)-1 {
			p *= 2
		}
		lines += p
	}
	if lines /= float64(len(x)); math.Abs(lines-time) > 1e-12*time {
		t.Errorf("squares of the lines: %g, of the numbers: %g", lines, time)
	}
}

func TestTransformAllocatesNothing(t *testing.T) {
	for _, n := range []int{1000, 1024, 16384} {
		x, r, re, im := noise(n), New(n), make([]float64, n/2+1), make([]float64, n/2+1)
		if got := testing.AllocsPerRun(5, func() { r.Transform(re, im, x) }); got != 0 {
			t.Errorf("%d numbers: %v allocations", n, got)
		}
	}
}

// Beside gonum's, in the same run.
func BenchmarkTransform(b *testing.B) {
	for _, n := range []int{1024, 4096, 16384, 65536} {
		x := noise(n)
		b.Run(fmt.Sprintf("ours %d", n), func(b *testing.B) {
			r, re, im := New(n), make([]float64, n/2+1), make([]float64, n/2+1)
			b.ReportAllocs()
			for b.Loop() {
				r.Transform(re, im, x)
			}
		})
		b.Run(fmt.Sprintf("gonum %d", n), func(b *testing.B) {
			r, lines := fourier.NewFFT(n), make([]complex128, n/2+1)
			for b.Loop() {
				r.Coefficients(lines, x)
			}
		})
	}
}
