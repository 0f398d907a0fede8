package contour

import "lampblack/patch/dsp/approx"

// afresh is after how many samples a charge is computed from its formula again:
// a power of two.
const afresh = 64

// bend is the charging curve 1 - e^(-c p) along a row, from one sample to the
// next: g grows by a part of what is left of it, as a capacitor's charge does.
// Every 64 samples it is computed afresh, so that it is never off by more than
// some 1e-12.
type bend struct {
	g     float64 // at sample number at of the row
	at    int
	known bool    // whether g and at are those of this row, at this speed
	grow  float64 // what one sample adds, of what is left; 0: not known yet
}

// charge returns 1 - e^(-c p) at sample number n of a row, c > 0, where p grows
// by share with every sample (or shrinks: share < 0). It is asked for one sample
// after the other.
func (b *bend) charge(c, p, share float64, n int) float64 {
	switch {
	case b.known && n == b.at:
		return b.g
	case b.known && n%afresh != 0:
		if b.grow == 0 {
			b.grow = growth(float64(c * share))
		}
		b.g += float64(b.grow * (1 - b.g))
	default:
		if b.g = approx.Charge(float64(c * p)); !b.known {
			b.known, b.grow = true, 0
		}
	}
	b.at = n
	return b.g
}

// growth is 1 - e^-x, also for x below 0.
func growth(x float64) float64 {
	if x >= 0 {
		return approx.Charge(x)
	}
	// 1 - e^y = -(1 - e^-y) / e^-y
	up := approx.Charge(-x)
	return -up / (1 - up)
}
