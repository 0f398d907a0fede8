package vocoder

import (
	"math"

	"lampblack/patch/dsp/bound"
)

// analyser follows the level of one band of the voice: a Butterworth band-pass
// of order 4, which is two band-passes on either side of the middle.
type analyser struct {
	low, high pair
	gain      float64 // what makes a sine of amplitude 1 in the middle read 1
	a1, a2    float64 // states of the lower band-pass
	b1, b2    float64
	mean      float64 // the rectified band, averaged
	y         float64 // the level
}

// tune sets the band between two edges, given as tan(pi f/rate), in which the
// bilinear transform bends nothing; wide stretches it about its middle.
//
// With its width w as a share of the middle, two band-passes at middle/a and
// middle*a, both of Q = q, are a Butterworth filter if
//
//	(a + 1/a)/q = sqrt(2) w,  a^2 + 1/a^2 + 1/q^2 = 2 + w^2,
//
// as comparing coefficients gives: u = (a + 1/a)^2 solves
// u^2 - (4 + w^2) u + 2 w^2 = 0.
func (b *analyser) tune(below, above, wide float64) {
	middle := math.Sqrt(float64(below * above))
	w := float64((above-below)*wide) / middle
	ww := float64(w * w)
	h := 4 + ww
	u := float64(0.5 * (h + math.Sqrt(float64(h*h)-float64(8*ww))))
	root := math.Sqrt(u)
	k := float64(math.Sqrt2*w) / root // 1/q
	a := float64(0.5 * (root + math.Sqrt(max(u-4, 0))))
	b.low = newPair(middle/a, k)
	b.high = newPair(float64(middle*a), k)
	// The two pass u/2 too little in the middle; a rectified sine has a mean of 2/pi.
	b.gain = float64(math.Pi / 4 * u)
}

// run fills env with the level of the band of x. step is the part of the way to
// go in a sample, keep what is left of a level after one.
func (b *analyser) run(x, env, step, keep []float64) {
	a1, a2, b1, b2, mean, y := b.a1, b.a2, b.b1, b.b2, b.mean, b.y
	p, q, gain := b.low, b.high, b.gain
	halfP := 0.5 * p.k
	halfQ := float64(0.5 * q.k * gain)
	env, step, keep = env[:len(x)], step[:len(x)], keep[:len(x)]
	for i, v := range x {
		e := v - a2
		n := float64(p.own*a1) + float64(p.cross*e)
		a2 += float64(p.cross*a1) + float64(p.in2*e)
		u := float64(halfP * (a1 + n))
		a1 = n
		e = u - b2
		n = float64(q.own*b1) + float64(q.cross*e)
		b2 += float64(q.cross*b1) + float64(q.in2*e)
		r := math.Abs(float64(halfQ * (b1 + n)))
		b1 = n
		mean += float64(step[i] * (r - mean))
		if y = float64(y * keep[i]); y < mean {
			y = mean
		}
		env[i] = y
	}
	b.a1, b.a2, b.b1, b.b2, b.mean, b.y = a1, a2, b1, b2, mean, y
}

// rest forgets the sound, keeps the tuning.
func (b *analyser) rest() {
	b.a1, b.a2, b.b1, b.b2, b.mean, b.y = 0, 0, 0, 0, 0, 0
}

// flush forgets what has vanished.
func (b *analyser) flush() {
	for _, v := range [...]*float64{&b.a1, &b.a2, &b.b1, &b.b2, &b.mean, &b.y} {
		*v = bound.Flush(*v)
	}
}
