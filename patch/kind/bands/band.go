package bands

import (
	"math"

	"lampblack/patch/dsp/approx"
)

const (
	thirds = 30  // bands with a level
	first  = -16 // the lowest: 1000 x 10^(-16/10) Hz, 25 Hz
	most   = 32  // with one more at either end, which goes with the last one's level

	// wider is by how much a band is wider than the distance of its edges: at
	// 5.2 % bands of alternating sign add up flat, within 0.12 dB where they lie
	// far below half the sample rate.
	wider = 1.052

	highest = 0.4975 // of the sample rate: the highest edge
)

// section is half of a band-pass: B s/(s^2 + alpha s + beta) by the bilinear
// transform, b (1 - z^-2)/(1 + a1 z^-1 + a2 z^-2), in the transposed direct form.
type section struct {
	b, a1, a2 float64
}

func newSection(width, alpha, beta float64) section {
	a0 := 1 + alpha + beta
	return section{b: width / a0, a1: float64(2*(beta-1)) / a0, a2: (1 - alpha + beta) / a0}
}

// band is a Butterworth band-pass of order 6.
type band [3]section

// gain holds those of all bands at one sample, with room for three that are not
// there.
type gain [most + abreast - 1]float64

// edge is the lower edge of band k in Hz: 10^(-1/20) under its mid-band.
func edge(k int) float64 {
	const decade = math.Ln10 / math.Ln2 // log2(10)
	return 1000 * approx.Exp2(float64(decade*(float64(k)/10-0.05)))
}

// newBand makes the band-pass between two edges as parts of the sample rate. In
// the low-pass's p = (s^2 + w^2)/(B s) it is 1/((p + 1)(p^2 + p + 1)). The first
// factor is a section. With s = w x and q = B/w the second has the denominator
//
//	x^4 + q x^3 + (2 + q^2) x^2 + q x + 1 = (x^2 + c r x + r^2)(x^2 + c x/r + 1/r^2)
//
// so m = r + 1/r and c = q/m follow from m^4 - (4 + q^2) m^2 + q^2 = 0.
func newBand(low, high float64) band {
	w1, w2 := approx.Tan(low), approx.Tan(min(high, highest))
	b := float64(wider * (w2 - w1))
	ww := float64(w1 * w2)
	w := math.Sqrt(ww)
	q := b / w
	qq := float64(q * q)
	h := 4 + qq
	mm := float64((h + math.Sqrt(float64(h*h)-float64(4*qq))) / 2)
	m := math.Sqrt(mm)
	r := (m + math.Sqrt(max(mm-4, 0))) / 2
	c := q / m
	return band{
		newSection(b, b, ww),
		newSection(b, float64(float64(c*r)*w), float64(float64(r*r)*ww)),
		newSection(b, float64(c/r*w), ww/float64(r*r)),
	}
}
