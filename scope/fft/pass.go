package fft

// first takes the numbers as complex ones, two by two, and does the first pass:
// its groups have one number at each place.
func (r *Real) first(x []float64) {
	p := r.passes[0]
	q := p.quarter
	x0, x1, x2, x3 := x[:2*q], x[2*q:4*q], x[4*q:6*q], x[6*q:8*q]
	for g := range q {
		w := p.turns[6*g : 6*g+6 : 6*g+6]
		aRe, aIm := x0[2*g], x0[2*g+1]
		bRe, bIm := x1[2*g], x1[2*g+1]
		cRe, cIm := x2[2*g], x2[2*g+1]
		dRe, dIm := x3[2*g], x3[2*g+1]
		sumRe, sumIm, awayRe, awayIm := aRe+cRe, aIm+cIm, aRe-cRe, aIm-cIm
		otherRe, otherIm, leftRe, leftIm := bRe+dRe, bIm+dIm, bIm-dIm, dRe-bRe // left: -j (b - d)
		re, im := r.re[4*g:4*g+4:4*g+4], r.im[4*g:4*g+4:4*g+4]
		re[0], im[0] = sumRe+otherRe, sumIm+otherIm
		re[1], im[1] = turned(w[0], w[1], awayRe+leftRe, awayIm+leftIm)
		re[2], im[2] = turned(w[2], w[3], sumRe-otherRe, sumIm-otherIm)
		re[3], im[3] = turned(w[4], w[5], awayRe-leftRe, awayIm-leftIm)
	}
}

// turned is the product of two complex numbers; nothing in it is fused, so that
// a level has the same bits on every processor.
func turned(wRe, wIm, re, im float64) (float64, float64) {
	return float64(wRe*re) - float64(wIm*im), float64(wRe*im) + float64(wIm*re)
}

// run does one pass from re, im to toRe, toIm.
func (p *pass) run(toRe, toIm, re, im []float64) {
	s, far := p.side, p.quarter*p.side
	for g := range p.quarter {
		at, to := g*s, 4*g*s
		w := (*[6]float64)(p.turns[6*g:])
		fourOnes(toRe[to:to+4*s], toIm[to:to+4*s], re[at:], im[at:], s, far, w)
	}
}

// fourOnes turns s numbers at each of four places, far apart, into s numbers at
// each of four places side by side.
func fourOnes(toRe, toIm, re, im []float64, s, far int, w *[6]float64) {
	aRe, bRe, cRe, dRe := re[:s], re[far:far+s], re[2*far:2*far+s], re[3*far:3*far+s]
	aIm, bIm, cIm, dIm := im[:s], im[far:far+s], im[2*far:2*far+s], im[3*far:3*far+s]
	re0, re1, re2, re3 := toRe[:s], toRe[s:2*s], toRe[2*s:3*s], toRe[3*s:4*s]
	im0, im1, im2, im3 := toIm[:s], toIm[s:2*s], toIm[2*s:3*s], toIm[3*s:4*s]
	w1Re, w1Im, w2Re, w2Im, w3Re, w3Im := w[0], w[1], w[2], w[3], w[4], w[5]
	for i := range s {
		sumRe, sumIm, awayRe, awayIm := aRe[i]+cRe[i], aIm[i]+cIm[i], aRe[i]-cRe[i], aIm[i]-cIm[i]
		otherRe, otherIm, leftRe, leftIm := bRe[i]+dRe[i], bIm[i]+dIm[i], bIm[i]-dIm[i], dRe[i]-bRe[i]
		re0[i], im0[i] = sumRe+otherRe, sumIm+otherIm
		re1[i], im1[i] = turned(w1Re, w1Im, awayRe+leftRe, awayIm+leftIm)
		re2[i], im2[i] = turned(w2Re, w2Im, sumRe-otherRe, sumIm-otherIm)
		re3[i], im3[i] = turned(w3Re, w3Im, awayRe-leftRe, awayIm-leftIm)
	}
}

// last does what passes of four leave over if half the length is twice a power
// of four: sums and differences of what lies half the places apart.
func (r *Real) last() {
	if !r.odd {
		return
	}
	s := len(r.re) / 2
	a, b, c, d := r.re[:s], r.re[s:2*s], r.im[:s], r.im[s:2*s]
	for i := range s {
		a[i], b[i] = a[i]+b[i], a[i]-b[i]
		c[i], d[i] = c[i]+d[i], c[i]-d[i]
	}
}
