package filter

import (
	"math"

	"lampblack/patch/module"
)

const (
	silent  = 1e-15 // two states below it (-300 dB) become 0
	runaway = 1e12  // a state beyond it is reset: only an input without bounds gets there
)

// sound runs three loops of the same two integrators. They hear the same input
// and differ in what they keep when the width jumps (see coefficients.keep):
//
//	level  keeps its states, so low does not move with the width: a steady
//	       input stays where it is
//	ring   keeps states times k, so band and notch go on ringing as loudly as
//	       they did
//	bell   as ring, but as wide as the bell's boost asks; at rest while boost
//	       is 0 dB
//
// While the width has never moved, level and ring are the same to the bit.
type sound struct {
	tuner
	level, ring, bell pair
	bellK             float64 // the k of bell's last sample, 0 while it is at rest
	peaked            [module.MaxBlock]peaking
}

// pair is the states of two integrators in a loop. They are put to rest
// together: one that is put to rest alone holds the other where it is.
type pair struct{ s1, s2 float64 }

func newSound(s module.Setup) module.Sound {
	return &sound{tuner: tuner{inverse: 1 / s.Rate}}
}

// Block filters. Tuning comes first, for all samples that need it: it waits for
// no state, so it runs at full speed.
func (s *sound) Block(b *module.Block) {
	mask := s.tune(b)
	if s.moved || s.level != s.ring {
		s.run(b, mask)
	} else {
		s.runOne(b, mask)
	}
	s.runBell(b, mask)
}

// runOne is run for as long as level and ring are the same: half of the work,
// the same bits.
func (s *sound) runOne(b *module.Block, mask int) {
	in, peak := b.In[0][:b.N], b.Controls[2].V[:b.N]
	low, band, high, notch := b.Out[0][:b.N], b.Out[1][:b.N], b.Out[2][:b.N], b.Out[3][:b.N]
	s1, s2 := s.level.s1, s.level.s2
	for i, x := range in {
		c := &s.tuned[i&mask&(module.MaxBlock-1)]
		n1 := float64(c.own1*s1) - float64(c.cross*s2) + float64(c.cross*x)
		n2 := float64(c.cross*s1) + float64((1-c.in2)*s2) + float64(c.in2*x)
		kv1 := float64(c.half * (s1 + n1))
		v2 := float64(0.5 * (s2 + n2))
		low[i] = v2
		band[i] = float64(kv1 * peak[i])
		high[i] = x - kv1 - v2
		notch[i] = x - kv1
		if a := math.Abs(n1) + math.Abs(n2); !(a >= silent && a <= runaway) {
			n1, n2 = forget(a, &b.Clamped), 0
		}
		s1, s2 = n1, n2
	}
	s.level = pair{s1, s2}
	s.ring = s.level
}

// run gives all outputs but bell. With v1 and v2 the outputs of the
// integrators, low is v2 of level, band is k v1 of ring, and high is what those
// two leave of the input.
func (s *sound) run(b *module.Block, mask int) {
	in, peak := b.In[0][:b.N], b.Controls[2].V[:b.N]
	low, band, high, notch := b.Out[0][:b.N], b.Out[1][:b.N], b.Out[2][:b.N], b.Out[3][:b.N]
	s1, s2, r1, r2 := s.level.s1, s.level.s2, s.ring.s1, s.ring.s2
	for i, x := range in {
		c := &s.tuned[i&mask&(module.MaxBlock-1)]
		if c.moved {
			r1, r2 = float64(r1*c.keep1), float64(r2*c.keep2)
			c.moved = false
		}
		rest, x1, x2 := 1-c.in2, float64(c.cross*x), float64(c.in2*x)
		n2 := float64(c.cross*s1) + float64(rest*s2) + x2
		n1 := float64(c.own1*s1) - float64(c.cross*s2) + x1
		m1 := float64(c.own1*r1) - float64(c.cross*r2) + x1
		m2 := float64(c.cross*r1) + float64(rest*r2) + x2
		kv1 := float64(c.half * (r1 + m1))
		v2 := float64(0.5 * (s2 + n2))
		low[i] = v2
		band[i] = float64(kv1 * peak[i])
		high[i] = x - kv1 - v2
		notch[i] = x - kv1
		if a := math.Abs(n1) + math.Abs(n2); !(a >= silent && a <= runaway) {
			n1, n2 = forget(a, &b.Clamped), 0
		}
		if a := math.Abs(m1) + math.Abs(m2); !(a >= silent && a <= runaway) {
			m1, m2 = forget(a, &b.Clamped), 0
		}
		s1, s2, r1, r2 = n1, n2, m1, m2
	}
	s.level, s.ring = pair{s1, s2}, pair{r1, r2}
}

// forget resets states of size a that have vanished, or have no bounds or are no
// numbers, which is to be said.
func forget(a float64, clamped *bool) float64 {
	if !(a <= runaway) {
		*clamped = true
	}
	return 0
}

// peaking advances bell's states, which are those of ring times k, by one
// sample.
type peaking struct {
	k, in1, in2 float64 // k, and x into the two states
	own1, cross float64
	rest        float64
}

// runBell gives bell: the input, and boost - 1 times a band whose 1/Q is k/A,
// A = sqrt(boost), which is the peaking filter of the Audio EQ Cookbook.
func (s *sound) runBell(b *module.Block, mask int) {
	in, boost, bell := b.In[0][:b.N], b.Controls[3].V[:b.N], b.Out[4][:b.N]
	if b.Controls[3].Steady && boost[0] == 1 {
		copy(bell, in)
		s.bell, s.bellK = pair{}, 0
		return
	}
	if !b.Controls[3].Steady {
		mask = module.MaxBlock - 1
	}
	moving := min(b.N, mask+1)
	for i := range moving {
		s.peaked[i].set(&s.tuned[i&s.mask], boost[i])
	}
	z1, z2, k := s.bell.s1, s.bell.s2, s.bellK
	for i, x := range in {
		if boost[i] == 1 {
			bell[i], z1, z2, k = x, 0, 0, 0
			continue
		}
		c := &s.peaked[i&mask&(module.MaxBlock-1)]
		if k != c.k {
			z2 = float64(z2 * settle(k, c.k))
			k = c.k
		}
		n1 := float64(c.own1*z1) - float64(c.cross*z2) + float64(c.in1*x)
		n2 := float64(c.cross*z1) + float64(c.rest*z2) + float64(c.in2*x)
		bell[i] = x + float64((boost[i]-1)*float64(0.5*(z1+n1)))
		if a := math.Abs(n1) + math.Abs(n2); !(a >= silent && a <= runaway) {
			n1, n2 = forget(a, &b.Clamped), 0
		}
		z1, z2 = n1, n2
	}
	s.bell, s.bellK = pair{z1, z2}, k
}

func (p *peaking) set(c *coefficients, boost float64) {
	k := float64(2*c.half) / math.Sqrt(boost)
	a := 2 / (c.dd + c.nn + float64(c.nd*k))
	in2 := float64(a * c.nn)
	p.k, p.own1, p.cross, p.rest = k, float64(a*c.dd)-1, float64(a*c.nd), 1-in2
	p.in1, p.in2 = float64(p.cross*k), float64(in2*k)
}
