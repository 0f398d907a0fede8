package yin

import (
	"math"

	"lampblack/patch/dsp/approx"
)

// steps is how many places between two samples the kernel knows.
const steps = 64

// kernel holds, for each place between two samples, the weights with which the
// samples around give the value there: a sinc under Kaiser's window.
type kernel [steps][2 * reach]float64

func newKernel() *kernel {
	k := new(kernel)
	for s := range k {
		sum := 0.0
		for i := range k[s] {
			x := float64(i-reach+1) - float64(float64(s)/steps) // -6 to +6 samples away
			r := x / reach
			w := approx.BesselI0(float64(beta * math.Sqrt(max(1-float64(r*r), 0))))
			k[s][i] = float64(w * approx.Sinc(x))
			sum += k[s][i]
		}
		for i := range k[s] {
			k[s][i] /= sum
		}
	}
	return k
}

// between returns d at lag at/steps. The differences are as band-limited as the
// signal is, so the samples around say all about it.
func (f *Finder) between(at int) float64 {
	weights := &f.kernel[at%steps]
	first := at/steps - reach + 1
	var sum float64
	for i, w := range weights {
		j := first + i
		if j < 0 {
			j = -j // differences are nearly even around lag 0
		}
		sum += float64(w * f.d[j])
	}
	return sum
}

// refine returns the period in kept samples to a small fraction, and the depth
// of its dip. Multiples of the period that lie within reach are looked at too:
// an error there weighs less.
func (f *Finder) refine(lag, lags int) (period, dip float64) {
	at, value := f.bottom(float64(lag))
	dip = f.depth(lag)
	period = at
	for n := 2.0; ; n++ {
		guess := float64(n * period)
		if guess > float64(lags-margin) {
			return period, dip
		}
		at, next := f.bottom(guess)
		off := (at - guess) / guess
		if !(off < 0.02 && off > -0.02) || next > float64(multiple*value)+float64(0.02*f.d[lags]) {
			return period, dip
		}
		period = at / n
	}
}

// multiple is how much shallower than the first a dip may be and still count.
const multiple = 3

// bottom returns the place of the lowest difference next to lag, and its value.
func (f *Finder) bottom(lag float64) (at, value float64) {
	const width = steps / 4 // of the parabola, either side
	at = lag
	for range 3 {
		i := int(float64(at*steps) + 0.5)
		a, b, c := f.between(i-width), f.between(i), f.between(i+width)
		curve := a - float64(2*b) + c
		if !(curve > 0) {
			return lag, f.between(int(float64(lag*steps) + 0.5))
		}
		shift := float64(0.5*(a-c)) / curve
		shift = min(max(shift, -2), 2)
		value = b - float64(float64(0.25*(a-c))*shift)
		at = (float64(i) + float64(width*shift)) / steps
		at = min(max(at, lag-1.5), lag+1.5)
	}
	return at, value
}
