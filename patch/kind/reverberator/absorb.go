package reverberator

import (
	"math"

	"lampblack/patch/dsp/approx"
)

// lines is how many lines there are.
const lines = 16

// damping is what absorption is computed from.
type damping struct {
	decay, high, highCorner, low, lowCorner float64
}

// absorption is what each line takes away: a gain, a high shelf and a low shelf
// of first order each, so many decibels at high, middle and low frequencies as
// the line's length asks for (Jot and Chaigne). The shelves are the symmetric ones,
//
//	(a s + w)/(s/a + w) and (s + a w)/(s + w/a)
//
// with a the root of the shelf's gain: half its decibels at the corner w, and, as
// long as these are few, in proportion to its decibels anywhere. Lines of any
// length then decay alike.
type absorption struct {
	b0, b1, a1 [lines]float64 // gain and high shelf
	c0, c1, d1 [lines]float64 // low shelf
	z1, z2     [lines]float64 // their states
	of         damping        // what the coefficients belong to
	stale      bool           // whether the lengths have changed since
	send       float64        // gain of what comes in
}

// log2Thousand is log2(1000): 60 dB in octaves.
const log2Thousand = 9.965784284662087

// steepest is the largest loss of a shelf in one pass: -240 dB, in octaves.
const steepest = -40

// tune computes the coefficients for lengths in samples.
func (a *absorption) tune(of damping, lengths *[lines]float64, mean, inverse float64) {
	if of == a.of && !a.stale {
		return
	}
	a.of, a.stale = of, false
	perSample := -log2Thousand * inverse / of.decay // octaves of amplitude
	high, low := 1/of.high-1, 1/of.low-1
	th := approx.Tan(min(float64(of.highCorner*inverse), 0.49))
	tl := approx.Tan(min(float64(of.lowCorner*inverse), 0.49))
	var gains, highs, lows [lines]float64
	for i, m := range lengths {
		loss := float64(perSample * m)
		gains[i] = loss
		highs[i] = max(float64(0.5*float64(loss*high)), 0.5*steepest)
		lows[i] = max(float64(0.5*float64(loss*low)), 0.5*steepest)
	}
	approx.Powers(gains[:], 1)
	approx.Powers(highs[:], 1)
	approx.Powers(lows[:], 1)
	for i, gain := range gains {
		r := highs[i]
		q := 1 / r
		d := 1 / (q + th)
		a.b0[i], a.b1[i], a.a1[i] = float64(gain*d)*(r+th), float64(gain*d)*(th-r), d*(th-q)
		r = lows[i]
		q = float64(tl / r)
		r = float64(tl * r)
		d = 1 / (1 + q)
		a.c0[i], a.c1[i], a.d1[i] = d*(1+r), d*(r-1), d*(q-1)
	}
	// So much goes in that a steady noise is as loud inside as outside: per pass of
	// a mean line 1 - gain^2 of the energy is lost.
	a.send = math.Sqrt(approx.Charge(float64(-2 * math.Ln2 * float64(perSample*mean))))
}

// run filters what comes out of the lines.
func (a *absorption) run(x *[lines]float64) {
	for i, v := range x {
		y := float64(a.b0[i]*v) + a.z1[i]
		a.z1[i] = float64(a.b1[i]*v) - float64(a.a1[i]*y)
		z := float64(a.c0[i]*y) + a.z2[i]
		a.z2[i] = float64(a.c1[i]*y) - float64(a.d1[i]*z)
		x[i] = z
	}
}

// rest sets states that have died away to 0.
func (a *absorption) rest() {
	for i := range a.z1 {
		if math.Abs(a.z1[i]) < silent {
			a.z1[i] = 0
		}
		if math.Abs(a.z2[i]) < silent {
			a.z2[i] = 0
		}
	}
}

// silent is the size (-300 dB) under which a state is 0.
const silent = 1e-15

// vanish returns x, or 0 if it is smaller than silent. It does not branch: where a
// tail passes into silence nobody could foretell which way.
func vanish(x float64) float64 {
	const bits = 0x3CD203AF9EE75616 // of silent: sizes are in the order of their bits
	b := math.Float64bits(x)
	less := uint64(int64(b&^(1<<63)-bits) >> 63) // all ones if it is smaller
	return math.Float64frombits(b &^ less)
}
