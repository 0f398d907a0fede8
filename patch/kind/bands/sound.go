package bands

import (
	"lampblack/patch/dsp/bound"
	"lampblack/patch/module"
)

// grid is after how many samples, counted from the start, bands are looked at
// whether they have died: not at the ends of blocks, on which no bit may depend.
const grid = 64

type sound struct {
	slow   []four // the bands that run at the rate
	fast   []four // those that run at twice the rate
	count  int    // samples since the last point of the grid
	in     history
	downs  [2]down
	levels levels
	gains  [module.MaxBlock]gain
	sums   [2 * module.MaxBlock]row
}

// enough is the lowest rate in Hz at which no band needs twice the rate.
const enough = 80000

func newSound(setup module.Setup) module.Sound {
	rows := setup.Rows
	if rows == nil {
		rows = words.Table.Start
	}
	s := &sound{levels: read(rows)}
	room := 0.46 * setup.Rate // a band that starts above is left out
	if setup.Rate < enough {
		room = 0.56 * setup.Rate
	}
	for k := 0; k < most && edge(first-1+k) < room; k++ {
		low, high := edge(first-1+k), edge(first+k)
		if setup.Rate < enough && low > setup.Rate/24 {
			s.fast = with(s.fast, k, newBand(low/(2*setup.Rate), high/(2*setup.Rate)))
		} else {
			s.slow = with(s.slow, k, newBand(low/setup.Rate, high/setup.Rate))
		}
	}
	return s
}

// with returns the bands with band k behind them.
func with(bands []four, k int, b band) []four {
	if n := len(bands); n == 0 || k >= bands[n-1].first+abreast {
		bands = append(bands, four{first: k &^ 1})
	}
	bands[len(bands)-1].put(k, b)
	return bands
}

// Resume goes on where from stands. The rows may be others.
func (s *sound) Resume(from module.Sound) {
	if f, ok := from.(*sound); ok {
		copy(s.slow, f.slow)
		copy(s.fast, f.fast)
		s.count, s.in, s.downs = f.count, f.in, f.downs
	}
}

// Block weighs.
func (s *sound) Block(b *module.Block) {
	weighed, step := b.N, 1
	if still(b.Controls) {
		weighed, step = 1, 0
	}
	for i := range weighed {
		s.levels.follow(b.Controls, i)
		copy(s.gains[i][:], s.levels.gains[:])
	}
	var in [module.MaxBlock]float64
	for i, x := range b.In[0][:b.N] {
		in[i] = bound.In(x, &b.Clamped)
	}
	for from := 0; from < b.N; {
		to := min(from+grid-s.count, b.N)
		s.run(b, in[from:to], from, to, step)
		if s.count += to - from; s.count == grid {
			s.count = 0
			for k := range s.slow {
				s.slow[k].rest()
			}
			for k := range s.fast {
				s.fast[k].rest()
			}
		}
		from = to
	}
}

// run fills samples from to to, whose gains are as many rows apart as step says.
func (s *sound) run(b *module.Block, in []float64, from, to, step int) {
	out, odd, even := b.Out[0][from:to], b.Out[1][from:to], b.Out[2][from:to]
	clear(odd)
	clear(even)
	gains := s.gains[from*step:]
	if len(s.fast) > 0 {
		s.in.take(in)
		s.twice(odd, even, gains, step)
		in = s.in[:len(in)] // late samples ago
	}
	sums := s.sums[:len(in)]
	clear(sums)
	for k := range s.slow {
		s.slow[k].run(sums, in, gains, steps{step, step})
	}
	s.in.keep(len(in))
	for i, sum := range sums {
		even[i] += sum[0] + sum[2]
		odd[i] += sum[1] + sum[3]
		out[i] = odd[i] + even[i]
	}
}

// twice adds the bands that run at twice the rate. (Those with an odd number are
// the ones counted as odd; number 0 is the one below the first.)
func (s *sound) twice(odd, even []float64, gains []gain, step int) {
	var space, alternate [2 * module.MaxBlock]float64
	n := 2 * len(odd)
	in, side := space[:n], alternate[:n]
	for i := range odd {
		in[2*i], in[2*i+1] = 2*s.in.between(i), s.in[late+i-half+1]
	}
	sums := s.sums[:n]
	clear(sums)
	for k := range s.fast {
		s.fast[k].run(sums, in, gains, steps{0, step})
	}
	for i, sum := range sums {
		in[i], side[i] = sum[0]+sum[2], sum[1]+sum[3]
	}
	s.downs[0].add(odd, side)
	s.downs[1].add(even, in)
}

func still(c []module.Control) bool {
	for i := range c {
		if !c[i].Steady {
			return false
		}
	}
	return true
}
