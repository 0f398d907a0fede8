package pink

import "math"

// Stream filters white noise whose samples are numbered, so that what comes out
// at a sample depends on its number and on the white noise, and not on where the
// run began: bit for bit.
//
// A filter's state remembers, if faintly, every sample since it began; two runs
// that began at different places differ in the last bits for ever. So the
// samples are divided into cells of equal length. The state at the start of a
// cell is by definition that of poles which began at 0 a fixed number of
// samples before, long enough that what came earlier would count for less than
// 3e-20. A run computes it on the side while the cell before ends, and a run that
// begins anywhere computes it by looking back no further than that.
type Stream struct {
	filter Filter
	start  [most]float64 // the state at sample 0
	aside  [most]float64 // the states that the next cell will start from
	settle [most]uint64  // for how many samples each of these runs
	back   uint64        // the longest of them
	cell   uint64        // samples
	next   uint64        // the number of the sample to come
	since  uint64        // the first sample of this run without a gap
}

// forgotten is how many time constants a pole runs ahead of a cell: e^-45 is
// 3e-20, less than a thousandth of a rounding.
const forgotten = 45

// NewStream returns a stream of f that has settled before sample 0: its poles
// have run for eleven time constants on white noise, which white gives. That
// should be another noise than the one to be filtered.
func NewStream(f Filter, white func(dst []float64, first uint64)) Stream {
	s := Stream{filter: f}
	for k := range f.n {
		// 1 - |p| is a little less than one over the time constant.
		s.settle[k] = uint64(math.Ceil(forgotten / (1 - math.Abs(f.pole[k]))))
		s.back = max(s.back, s.settle[k])
	}
	for s.cell = 1 << 10; s.cell < 4*s.back; {
		s.cell *= 2
	}
	s.look(0, s.back/4, 4, white)
	s.start = s.aside
	s.filter.state, s.aside = s.start, [most]float64{}
	return s
}

// look runs the poles aside on the n samples of white noise from number first
// on, each for its time of settling divided by share.
func (s *Stream) look(first, n, share uint64, white func(dst []float64, first uint64)) {
	var x [256]float64
	for n > 0 {
		m := min(uint64(len(x)), n)
		white(x[:m], first)
		s.ahead(x[:m], n, share)
		first, n = first+m, n-m
	}
}

// Run filters x, white noise whose first sample has the number first. If the
// one before was not the last sample of the run before, the state stays as it
// is and becomes that of the numbers after one whole cell.
func (s *Stream) Run(x []float64, first uint64) {
	if first != s.next {
		s.since = first
		clear(s.aside[:])
	}
	for len(x) > 0 {
		n := s.enter(first, uint64(len(x)))
		s.ahead(x[:n], s.cell-first%s.cell, 1)
		s.filter.run(x[:n])
		x, first = x[n:], first+n
	}
	s.next = first
}

// Seek makes the state that of sample number index; white gives the white noise.
// It takes the time of a run of up to a cell and a quarter, so it is not for the
// sound thread.
func (s *Stream) Seek(index uint64, white func(dst []float64, first uint64)) {
	s.filter.state, s.aside = s.start, [most]float64{}
	s.since, s.next = 0, 0
	if at := index - index%s.cell; at > 0 {
		s.since, s.next = at-s.back, at
		s.look(s.since, s.back, 1, white)
	}
	var x [256]float64
	for s.next < index {
		n := min(uint64(len(x)), index-s.next)
		white(x[:n], s.next)
		s.Run(x[:n], s.next)
	}
}

// enter takes up the state of a cell if first is its first sample, and returns
// how many of n samples lie in the cell.
func (s *Stream) enter(first, n uint64) uint64 {
	into := first % s.cell
	if into == 0 && first > 0 {
		if s.since <= first-s.back {
			s.filter.state = s.aside
		}
		clear(s.aside[:])
	}
	return min(n, s.cell-into)
}

// ahead moves on the states aside by x, when left samples are left until they
// are needed; a pole begins when that is its time of settling divided by share.
func (s *Stream) ahead(x []float64, left, share uint64) {
	n := uint64(len(x))
	if left-n >= s.back/share {
		return
	}
	for k := range s.filter.n {
		from := uint64(0)
		if begin := s.settle[k] / share; left > begin {
			from = left - begin
		}
		if from >= n {
			continue
		}
		p, y := s.filter.pole[k], s.aside[k]
		for _, w := range x[from:] {
			y = float64(p*y) + w
		}
		s.aside[k] = y
	}
}

// side is how many poles run at a time: enough that none waits for its own last
// sum.
const side = 6

// run filters x as Next would, six poles at a time: unused ones have the weight
// 0.
func (f *Filter) run(x []float64) {
	var out [256]float64
	for len(x) > 0 {
		n := min(len(x), len(out))
		for i, w := range x[:n] {
			out[i] = float64(f.direct * w)
		}
		for k := 0; k < f.n; k += side {
			f.poles(k, out[:n], x[:n])
		}
		copy(x, out[:n])
		x = x[n:]
	}
}

// poles adds the outputs of side poles, from number k on, to out.
func (f *Filter) poles(k int, out, x []float64) {
	p, w, s := (*[side]float64)(f.pole[k:]), (*[side]float64)(f.weight[k:]), (*[side]float64)(f.state[k:])
	s0, s1, s2, s3, s4, s5 := s[0], s[1], s[2], s[3], s[4], s[5]
	x = x[:len(out)]
	for i, y := range out {
		v := x[i]
		s0 = float64(p[0]*s0) + v
		s1 = float64(p[1]*s1) + v
		s2 = float64(p[2]*s2) + v
		s3 = float64(p[3]*s3) + v
		s4 = float64(p[4]*s4) + v
		s5 = float64(p[5]*s5) + v
		y = y + float64(w[0]*s0) + float64(w[1]*s1) + float64(w[2]*s2)
		out[i] = y + float64(w[3]*s3) + float64(w[4]*s4) + float64(w[5]*s5)
	}
	s[0], s[1], s[2], s[3], s[4], s[5] = s0, s1, s2, s3, s4, s5
}
