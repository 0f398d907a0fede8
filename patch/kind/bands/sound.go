package bands

import (
	"lampblack/patch/dsp/bound"
	"lampblack/patch/module"
)

// grid is after how many samples, counted from the start, bands are looked at
// whether they have died: not at the ends of blocks, on which no bit may depend.
const grid = 64

type sound struct {
	bands  [most]band
	n      int // how many the sample rate has room for
	slow   int // how many of them run at the rate; the others run at twice the rate
	count  int // samples since the last point of the grid
	in     history
	downs  [2]down
	levels levels
	gains  [most]weights
}

// enough is the lowest rate in Hz at which no band needs twice the rate.
const enough = 80000

func newSound(setup module.Setup) module.Sound {
	rows := setup.Rows
	if rows == nil {
		rows = words.Table.Start
	}
	s := &sound{levels: read(rows)}
	rate, room := setup.Rate, 0.46*setup.Rate // a band that starts above is left out
	if rate < enough {
		room = 0.56 * rate
	}
	for ; s.n < most && edge(first-1+s.n) < room; s.n++ {
		k := first - 1 + s.n
		if setup.Rate < enough && edge(k) > setup.Rate/24 {
			rate = 2 * setup.Rate
		} else {
			s.slow++
		}
		s.bands[s.n] = newBand(edge(k)/rate, edge(k+1)/rate)
	}
	return s
}

// Resume goes on where from stands. The rows may be others.
func (s *sound) Resume(from module.Sound) {
	if f, ok := from.(*sound); ok {
		s.bands, s.count, s.in, s.downs = f.bands, f.count, f.in, f.downs
	}
}

// Block weighs.
func (s *sound) Block(b *module.Block) {
	weighed, mask := b.N, module.MaxBlock-1
	if still(b.Controls) {
		weighed, mask = 1, 0
	}
	for i := range weighed {
		s.levels.follow(b.Controls, i)
		for k, g := range s.levels.gains {
			s.gains[k][i] = g
		}
	}
	var in [module.MaxBlock]float64
	for i, x := range b.In[0][:b.N] {
		in[i] = bound.In(x, &b.Clamped)
	}
	for from := 0; from < b.N; {
		to := min(from+grid-s.count, b.N)
		s.run(b, in[from:to], from, to, mask)
		if s.count += to - from; s.count == grid {
			s.count = 0
			for k := range s.bands[:s.n] {
				s.bands[k].rest()
			}
		}
		from = to
	}
}

// run fills samples from to to.
func (s *sound) run(b *module.Block, in []float64, from, to, mask int) {
	out, odd, even := b.Out[0][from:to], b.Out[1][from:to], b.Out[2][from:to]
	clear(odd)
	clear(even)
	if s.slow < s.n {
		s.in.take(in)
		s.fast(odd, even, from, mask)
		in = s.in[:len(in)] // late samples ago
	}
	for k := range s.bands[:s.slow] {
		s.bands[k].run(side(k, odd, even), in, &s.gains[k], from, mask, 0)
	}
	s.in.keep(len(in))
	for i := range out {
		out[i] = odd[i] + even[i]
	}
}

// fast adds the bands that run at twice the rate.
func (s *sound) fast(odd, even []float64, from, mask int) {
	var space [2 * module.MaxBlock]float64
	var sums [2][2 * module.MaxBlock]float64
	n := 2 * len(odd)
	in := space[:n]
	for i := range odd {
		in[2*i], in[2*i+1] = 2*s.in.between(i), s.in[late+i-half+1]
	}
	for k := s.slow; k < s.n; k++ {
		s.bands[k].run(side(k, sums[0][:n], sums[1][:n]), in, &s.gains[k], from, mask, 1)
	}
	s.downs[0].add(odd, sums[0][:n])
	s.downs[1].add(even, sums[1][:n])
}

// side returns odd for the bands that are counted so; 0 is the one below the
// first.
func side(k int, odd, even []float64) []float64 {
	if k&1 == 1 {
		return odd
	}
	return even
}

func still(c []module.Control) bool {
	for i := range c {
		if !c[i].Steady {
			return false
		}
	}
	return true
}
