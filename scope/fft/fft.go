// Package fft takes the discrete Fourier transform of real numbers.
//
//	X[k] = sum over i of x[i] exp(-2 pi j k i / n),  k = 0 .. n/2
//
// Powers of two go the short way of this package: the n numbers are taken as n/2
// complex ones, transformed in passes of four (and at last one of two) from one
// buffer into another, so that nothing has to be sorted, and taken apart again.
// All other lengths go through gonum.
//
// It knows no window and no decibel. Held by tests: the results are gonum's, and
// the sums of squares those of Parseval.
//
// Sources: Cooley and Tukey, Math. Comp. 19 (1965); the passes without sorting:
// Stockham, AFIPS 28 (1966); real numbers in half the length: Cooley, Lewis and
// Welch, J. Sound Vib. 12 (1970).
package fft

import (
	"math"

	"gonum.org/v1/gonum/dsp/fourier"
)

// Real is a workspace for transforms of n real numbers. It is used by one
// goroutine; only New allocates.
type Real struct {
	n      int
	passes []pass
	turn   []turn    // exp(-2 pi j k/n), k = 0 .. n/4
	re, im []float64 // n/2 each, before and after a pass
	to, ti []float64
	odd    bool // a pass of two is left at the end

	other *fourier.FFT // for a length that is no power of two
	lines []complex128
}

// turn is a point of the unit circle.
type turn struct{ re, im float64 }

// pass is one step over all the numbers: each group of four that lie quarter
// places apart becomes four numbers that lie side by side.
type pass struct {
	quarter int // groups
	side    int // numbers that share the turns of a group
	turns   []float64
}

// New returns a workspace for n numbers, 2 or more; powers of two from 16 on take
// a third of the time or less that gonum needs.
func New(n int) *Real {
	if n < 2 {
		panic("fft: a transform needs two numbers or more")
	}
	if n < 16 || n&(n-1) != 0 {
		return &Real{n: n, other: fourier.NewFFT(n), lines: make([]complex128, n/2+1)}
	}
	half := n / 2
	all := make([]float64, 4*half)
	r := &Real{
		n: n, turn: make([]turn, n/4+1),
		re: all[:half:half], im: all[half : 2*half : 2*half],
		to: all[2*half : 3*half : 3*half], ti: all[3*half:],
	}
	for k := range r.turn {
		r.turn[k] = around(k, n)
	}
	length := half
	for side := 1; length >= 4; length, side = length/4, side*4 {
		p := pass{quarter: length / 4, side: side}
		for g := range p.quarter {
			a, b, c := around(g, length), around(2*g, length), around(3*g, length)
			p.turns = append(p.turns, a.re, a.im, b.re, b.im, c.re, c.im)
		}
		r.passes = append(r.passes, p)
	}
	r.odd = length == 2
	return r
}

// around returns exp(-2 pi j k/n), exact to the last bit wherever it lies: only
// angles of up to an eighth of a turn are computed.
func around(k, n int) turn {
	k %= n
	switch eighth := 8 * k / n; {
	case eighth == 0:
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / float64(n))
		return turn{cos, -sin}
	case eighth == 1:
		sin, cos := math.Sincos(2 * math.Pi * (float64(n)/4 - float64(k)) / float64(n))
		return turn{sin, -cos}
	default: // a quarter of a turn back
		t := around(4*k-n, 4*n)
		return turn{t.im, -t.re}
	}
}

// Len returns the number of numbers that a transform takes.
func (r *Real) Len() int { return r.n }

// Transform sets re and im to the transform of x: the real and imaginary parts
// of n/2+1 lines (rounded down), from 0 to half the rate, not scaled. x stays as
// it is. It panics if x has not n numbers, or re or im not as many as lines.
func (r *Real) Transform(re, im, x []float64) {
	if len(x) != r.n || len(re) != r.n/2+1 || len(im) != len(re) {
		panic("fft: Transform was given slices of other lengths than it takes")
	}
	if r.other != nil {
		for k, line := range r.other.Coefficients(r.lines, x) {
			re[k], im[k] = real(line), imag(line)
		}
		return
	}
	r.first(x)
	for _, p := range r.passes[1:] {
		p.run(r.to, r.ti, r.re, r.im)
		r.re, r.im, r.to, r.ti = r.to, r.ti, r.re, r.im
	}
	r.last()
	r.apart(re, im)
}

// apart turns the transform of n/2 complex numbers, whose real parts were the
// even and whose imaginary parts were the odd samples, into that of n real ones.
func (r *Real) apart(re, im []float64) {
	half := r.n / 2
	a, b := r.re[:half], r.im[:half]
	re, im = re[:half+1], im[:half+1]
	re[0], im[0] = a[0]+b[0], 0
	re[half], im[half] = a[0]-b[0], 0
	for k := 1; k <= half/2; k++ {
		m := half - k
		w := r.turn[k]
		evenRe, evenIm := (a[k]+a[m])/2, (b[k]-b[m])/2
		oddRe, oddIm := (b[k]+b[m])/2, (a[m]-a[k])/2
		turnedRe := float64(w.re*oddRe) - float64(w.im*oddIm)
		turnedIm := float64(w.re*oddIm) + float64(w.im*oddRe)
		re[k], im[k] = evenRe+turnedRe, evenIm+turnedIm
		re[m], im[m] = evenRe-turnedRe, turnedIm-evenIm
	}
}
