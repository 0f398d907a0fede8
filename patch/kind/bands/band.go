package bands

import (
	"math"

	"lampblack/patch/dsp/approx"
	"lampblack/patch/dsp/bound"
	"lampblack/patch/module"
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
	z1, z2    float64
}

func newSection(width, alpha, beta float64) section {
	a0 := 1 + alpha + beta
	return section{b: width / a0, a1: float64(2*(beta-1)) / a0, a2: (1 - alpha + beta) / a0}
}

// band is a Butterworth band-pass of order 6.
type band [3]section

// weights are the gains of one band at the samples of a block.
type weights [module.MaxBlock]float64

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

// run adds what the band passes of in, times its gains, to sum.
// From is the number of the first sample in the gains, mask 0 if all have the
// first one's; shift is 1 if there are two samples for every one of the gains, else 0.
func (d *band) run(sum, in []float64, gains *weights, from, mask int, shift uint) {
	s, t, u := &d[0], &d[1], &d[2]
	s1, s2, t1, t2, u1, u2 := s.z1, s.z2, t.z1, t.z2, u.z1, u.z2 // in registers
	sum = sum[:len(in)]
	for i, x := range in {
		x = float64(x * s.b)
		y := x + s1
		s1 = s2 - float64(s.a1*y)
		s2 = -x - float64(s.a2*y)
		x = float64(y * t.b)
		y = x + t1
		t1 = t2 - float64(t.a1*y)
		t2 = -x - float64(t.a2*y)
		x = float64(y * u.b)
		y = x + u1
		u1 = u2 - float64(u.a1*y)
		u2 = -x - float64(u.a2*y)
		sum[i] += float64(y * gains[(from+i>>shift)&mask&(len(gains)-1)])
	}
	s.z1, s.z2, t.z1, t.z2, u.z1, u.z2 = s1, s2, t1, t2, u1, u2
}

// rest makes a band that has all but died exactly silent.
func (d *band) rest() {
	for i := range d {
		if bound.Flush(d[i].z1) != 0 || bound.Flush(d[i].z2) != 0 {
			return
		}
	}
	for i := range d {
		d[i].z1, d[i].z2 = 0, 0
	}
}
