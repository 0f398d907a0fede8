package bands

import (
	"math"

	"lampblack/patch/dsp/approx"
	"lampblack/patch/module"
)

// Bands near half the sample rate would be bent by the bilinear transform, so
// they run at twice the rate: up and down go through a half-band low-pass of
// 4 half - 1 taps, of which all even ones but the middle one are 0. Both
// together take late samples, and so does what the other bands hear. A mirror
// that is left over on the way up comes down on the frequency that it came from:
// no false tone arises, only the gain of what lies near half the rate changes.
const (
	half = 20
	late = 2*half - 1
)

// taps are the odd ones of the half-band low-pass, from the middle outwards: a
// sinc through a Kaiser window.
var taps = func() (a [half]float64) {
	const beta = 8
	for j := range a {
		x := float64(2*j + 1)
		r := x / (2 * half)
		window := approx.BesselI0(float64(beta*math.Sqrt(1-float64(r*r)))) / approx.BesselI0(beta)
		a[j] = float64(float64(0.5*approx.Sinc(x/2)) * window)
	}
	sum := 0.0
	for _, v := range a {
		sum += v
	}
	for j := range a { // the middle is 1/2: at 0 Hz the gain is exactly 1
		a[j] *= 0.25 / sum
	}
	return a
}()

// history holds the last samples and those of a block behind them.
type history [late + module.MaxBlock]float64

// take puts a block behind what is there.
func (h *history) take(in []float64) { copy(h[late:], in) }

// keep forgets all but the last samples, after a block of n.
func (h *history) keep(n int) { copy(h[:late], h[n:n+late]) }

// between returns the sample i of the block through the odd taps: what lies
// between two samples, half - 1/2 of them ago, times 1/2.
func (h *history) between(i int) float64 {
	x := h[i : i+2*half]
	var even, odd float64 // two sums, which do not wait for each other
	for j := 0; j < half; j += 2 {
		even += float64(taps[j] * (x[half+j] + x[half-1-j]))
		odd += float64(taps[j+1] * (x[half+j+1] + x[half-2-j]))
	}
	return even + odd
}

// down brings a sum of bands from twice the rate to the rate.
type down struct {
	on, off history // samples on the rate's grid, and those in between
}

// add adds the n samples that fast stands for to sum.
func (d *down) add(sum, fast []float64) {
	n := len(sum)
	for i := range n {
		d.on[late+i], d.off[late+i] = fast[2*i], fast[2*i+1]
	}
	for i := range n {
		sum[i] += float64(0.5*d.off[late+i-half]) + d.on.between(i)
	}
	d.on.keep(n)
	d.off.keep(n)
}
