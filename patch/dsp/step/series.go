package step

// Orders is how many derivatives of a break can be mended: the value itself, its
// slope, its curvature and two more. Beyond these the ripple of the low-pass
// (-122 dB), integrated again and again, is more than what is gained.
const Orders = 5

// higher holds the differences for breaks of the third derivative and up. They
// are integrals of the bow, as the bow is of the bend.
type higher [Orders - 3][rows + 1]row

// fill integrates the bends and bows, given up to the middle, once more for
// every order.
func (h *higher) fill(jump, bend, bow []float64) {
	const n = Points * rows
	const step = 1.0 / rows
	under, last := bend, bow
	for o := range h {
		next := make([]float64, len(jump))
		for i := 1; i < len(next); i++ {
			next[i] = next[i-1] + float64((last[i-1]+last[i])*(step/2)) + float64((under[i-1]-under[i])*(step*step/12))
		}
		odd := o%2 == 1 // around the middle, as jump and bow are
		if odd {
			// See newTable: the gap that the ripple of the low-pass leaves.
			for i, gap := 0, float64(2*next[n/2]); i < len(next); i++ {
				next[i] -= float64(gap * jump[i])
			}
		}
		for j := range h[o] {
			for k := range Points {
				i, sign := k*rows+j, 1.0
				if k >= Delay {
					i = n - i
					if odd {
						sign = -1
					}
				}
				h[o][j][k] = float64(sign * next[i])
			}
		}
		under, last = last, next
	}
}

// Break adds to dst what a band-limited break of a smooth curve differs from a
// sharp one: derivatives[k] is by how much the k-th derivative changes, per
// sample to the k (k = 0: the value). It takes up to Orders of them. The
// higher ones converge slowly for a sine; see Sines for that.
func (t *Table) Break(dst *[Points]float64, late float64, derivatives []float64) {
	for k, d := range derivatives {
		if d == 0 {
			continue
		}
		switch k {
		case 0:
			add(dst, &t.jumps, late, d)
		case 1:
			add(dst, &t.bends, late, d)
		case 2:
			add(dst, &t.bows, late, d)
		default:
			add(dst, &t.higher[k-3], late, d)
		}
	}
}
