package ladder

// taps are the all-pass coefficients of a half-band filter: 85 dB down from
// 0.2732 of the doubled rate on (24.1 kHz of 88.2), flat within 1e-7 dB up to
// 0.2268 (20 kHz). Every other one belongs to the one branch or the other.
// Computed with the formulas of Valenzuela and Constantinides, IEE Proc. G
// 130(6), 1983, for eight coefficients.
var taps = [2][4]float64{
	{0.05366235613126508, 0.3725592345558832, 0.6932915447533193, 0.8941437165843532},
	{0.1935880010975501, 0.5469696372284895, 0.8069088257330219, 0.9659202226650997},
}

// branches is the state of both branches: what went into and came out of each
// stage one sample ago. What comes out of a stage goes into the next.
type branches [2][5]float64

// double fills x, of which only the first half is given, with two samples for
// every one: each branch gives one of them.
func (b *branches) double(x []float64) {
	for i := len(x)/2 - 1; i >= 0; i-- {
		x[2*i], x[2*i+1] = x[i], x[i]
	}
	b.pass(x)
}

// halve gives one sample for every two of x, which it spoils. The later one of
// the two goes through the first branch.
func (b *branches) halve(dst, x []float64) {
	for i := range dst {
		x[2*i], x[2*i+1] = x[2*i+1], x[2*i]
	}
	b.pass(x)
	for i := range dst {
		dst[i] = float64(0.5 * (x[2*i] + x[2*i+1]))
	}
}

// pass sends the even samples of x through the first branch and the odd ones
// through the second. Both at once, and with what a stage's last output adds
// summed last: each waits for its own last output and for nothing else.
func (b *branches) pass(x []float64) {
	a0, a1, a2, a3, a4 := b[0][0], b[0][1], b[0][2], b[0][3], b[0][4]
	b0, b1, b2, b3, b4 := b[1][0], b[1][1], b[1][2], b[1][3], b[1][4]
	for i := 0; i+1 < len(x); i += 2 {
		v, w := x[i], x[i+1]
		v1 := float64(taps[0][0]*v) + a0 - float64(taps[0][0]*a1)
		w1 := float64(taps[1][0]*w) + b0 - float64(taps[1][0]*b1)
		v2 := float64(taps[0][1]*v1) + a1 - float64(taps[0][1]*a2)
		w2 := float64(taps[1][1]*w1) + b1 - float64(taps[1][1]*b2)
		v3 := float64(taps[0][2]*v2) + a2 - float64(taps[0][2]*a3)
		w3 := float64(taps[1][2]*w2) + b2 - float64(taps[1][2]*b3)
		v4 := float64(taps[0][3]*v3) + a3 - float64(taps[0][3]*a4)
		w4 := float64(taps[1][3]*w3) + b3 - float64(taps[1][3]*b4)
		a0, a1, a2, a3, a4 = v, v1, v2, v3, v4
		b0, b1, b2, b3, b4 = w, w1, w2, w3, w4
		x[i], x[i+1] = v4, w4
	}
	b[0], b[1] = [5]float64{a0, a1, a2, a3, a4}, [5]float64{b0, b1, b2, b3, b4}
}
