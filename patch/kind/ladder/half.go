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
	b.pass(x, 0, 0)
	b.pass(x, 1, 1)
}

// halve gives one sample for every two of x, which it spoils.
func (b *branches) halve(dst, x []float64) {
	b.pass(x, 1, 0)
	b.pass(x, 0, 1)
	for i := range dst {
		dst[i] = float64(0.5 * (x[2*i] + x[2*i+1]))
	}
}

// pass sends every second sample of x through a branch.
func (b *branches) pass(x []float64, first, branch int) {
	s, c := &b[branch], &taps[branch]
	s0, s1, s2, s3, s4 := s[0], s[1], s[2], s[3], s[4]
	c0, c1, c2, c3 := c[0], c[1], c[2], c[3]
	for i := first; i < len(x); i += 2 {
		v := x[i]
		y0 := float64(c0*(v-s1)) + s0
		y1 := float64(c1*(y0-s2)) + s1
		y2 := float64(c2*(y1-s3)) + s2
		y3 := float64(c3*(y2-s4)) + s3
		s0, s1, s2, s3, s4 = v, y0, y1, y2, y3
		x[i] = y3
	}
	*s = [5]float64{s0, s1, s2, s3, s4}
}
