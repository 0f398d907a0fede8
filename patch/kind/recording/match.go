package recording

import "math"

const (
	blocks = 128 // in which a stretch of the recording is compared at first
	points = 256 // at which it is compared then
	fine   = 48  // and at last, between samples
)

// mix is the sum of the channels at a sample; outside there is silence.
func (s *sound) mix(i int, backward bool) float64 {
	if backward {
		i = len(s.left) - 1 - i
	}
	if uint(i) >= uint(len(s.left)) {
		return 0
	}
	return s.left[i] + s.right[i]
}

// alike tells how much the stretches of a length from two places on are alike:
// their correlation, 0 to 1.
func (s *sound) alike(a, b, length float64, backward bool) float64 {
	var c, ea, eb float64
	step := max(length/points, 1)
	for k := 0.0; k < length; k += step {
		x, y := s.mix(int(math.Floor(a+k)), backward), s.mix(int(math.Floor(b+k)), backward)
		c += float64(x * y)
		ea += float64(x * x)
		eb += float64(y * y)
	}
	return share(c, ea, eb)
}

// share is the correlation of a product c and two energies, 0 to 1.
func share(c, ea, eb float64) float64 {
	if r := c / math.Sqrt(float64(ea*eb)); r > 0 { // not so if it is no number
		return min(r, 1)
	}
	return 0
}

// match looks for the place between from and to, at most hop samples apart,
// from which on the recording goes on as it does from place a on, and tells how
// much it is alike. It compares a hop: first roughly, by the means of blocks at
// all places, then around the best one in ever smaller steps, at last between
// samples.
func (s *sound) match(a, from, to, hop float64, backward bool) (place, like float64) {
	size := max(int(hop)/blocks, 1)
	first := int(math.Floor(from))
	lags := min(int(to-from)/size+1, 2*blocks)
	best := first + size*s.roughly(int(math.Floor(a)), first, size, lags, backward)
	best = s.closely(int(math.Floor(a)), best, size, int(hop), backward)
	// Between samples: the top of ever narrower parabolas.
	place = float64(best) + (a - math.Floor(a))
	x := s.sketch(a, hop, backward)
	for _, h := range [...]float64{0.5, 0.125, 0.03} {
		place, like = s.between(&x, place, h, hop, backward)
	}
	if !(place >= from && place <= to) {
		place = min(max(place, from), to)
		like = s.alike(a, place, hop, backward)
	}
	return place, like
}

// roughly returns which of the lags, in blocks, is best.
func (s *sound) roughly(a, first, size, lags int, backward bool) int {
	var x [blocks]float64
	var y [3 * blocks]float64
	for k := range x {
		x[k] = s.block(a+k*size, size, backward)
	}
	for k := range y[:blocks+lags-1] {
		y[k] = s.block(first+k*size, size, backward)
	}
	at, most := 0, math.Inf(-1)
	for lag := range lags {
		var c, e float64
		seen := (*[blocks]float64)(y[lag:])
		for k, v := range seen {
			c += float64(x[k] * v)
			e += float64(v * v)
		}
		if r := c / math.Sqrt(e); r > most {
			at, most = lag, r
		}
	}
	return at
}

// block is the sum of up to 16 samples spread over a block.
func (s *sound) block(from, size int, backward bool) float64 {
	var sum float64
	step := max(size/16, 1)
	for i := 0; i < size; i += step {
		sum += s.mix(from+i, backward)
	}
	return sum
}

// closely returns the best whole place within size of one.
func (s *sound) closely(a, best, size, hop int, backward bool) int {
	var x [points]float64
	var at [points]int
	stride := max(hop/points, 1)
	n := min(points, hop)
	for k := range x[:n] {
		at[k] = k*stride + scatter(k, stride)
		x[k] = s.mix(a+at[k], backward)
	}
	for size > 0 {
		step := max(size/8, 1)
		middle, most := best, math.Inf(-1)
		for b := middle - size; b <= middle+size; b += step {
			var c, e float64
			for k, v := range x[:n] {
				y := s.mix(b+at[k], backward)
				c += float64(v * y)
				e += float64(y * y)
			}
			if r := c / math.Sqrt(e); r > most {
				best, most = b, r
			}
		}
		if step == 1 {
			break
		}
		size = step
	}
	return best
}

// scatter is 0 to stride-1, unevenly, so that no tone falls into step with the
// samples that are compared: multiples of the golden ratio (Knuth, 3, 6.4).
func scatter(k, stride int) int {
	return int(uint64(uint32(k)*0x9E3779B9) * uint64(stride) >> 32)
}

// sketch is what is compared at last: a few points of the hop from a place on.
func (s *sound) sketch(a, hop float64, backward bool) (x [fine]float64) {
	stride := max(int(hop)/fine, 1)
	for k := range x {
		x[k] = s.mixed(a+float64(k*stride+scatter(k, stride)), backward)
	}
	return x
}

// between moves a place to the top of the parabola through the correlations with
// x at it and h samples to either side.
func (s *sound) between(x *[fine]float64, place, h, hop float64, backward bool) (better, like float64) {
	var r [3]float64
	for i := range r {
		y := s.sketch(place+float64(float64(i-1)*h), hop, backward)
		var c, ex, ey float64
		for k, v := range x {
			c += float64(v * y[k])
			ex += float64(v * v)
			ey += float64(y[k] * y[k])
		}
		r[i] = share(c, ex, ey)
	}
	bend := r[0] - 2*r[1] + r[2]
	if !(bend < 0) {
		return place, r[1]
	}
	move := float64(0.5*h*(r[0]-r[2])) / bend
	return place + min(max(move, -h), h), r[1]
}

// mixed is the sum of the channels at any place.
func (s *sound) mixed(place float64, backward bool) float64 {
	l, r := s.read(place, 1, backward)
	return l + r
}
