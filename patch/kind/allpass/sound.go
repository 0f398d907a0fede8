package allpass

import (
	"math"

	"lampblack/patch/dsp/approx"
	"lampblack/patch/dsp/bound"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

const (
	highest = 0.49  // of the sample rate: the highest centre
	silent  = 1e-15 // -300 dB: what counts as nothing
	patient = 2048  // samples of nothing in and out, after which the states are at rest
)

type sound struct {
	inverse float64 // 1 / sample rate
	quiet   int     // samples of nothing in and out, up to now
	chain   chain
	tuned   [module.MaxBlock]stage // of the samples of a block
}

// chain is the states of all stages; those of the first order use the first.
type chain [mostStages][2]float64

// stage is what all stages do to one sample. A stage of the first order turns
// (in, state) by one angle into (out, next state); one of the second order is
// such a stage (cos and sin) inside another (wide and narrow).
type stage struct {
	cos, sin     float64
	narrow, wide float64
}

func newSound(s module.Setup) module.Sound { return &sound{inverse: 1 / s.Rate} }

func (s *sound) Block(b *module.Block) {
	second := control.Number(b.Controls[2].V[0], 1) == 1
	stages := max(control.Number(b.Controls[3].V[0], mostStages), 1)
	for i := stages; i < mostStages; i++ {
		s.chain[i] = [2]float64{} // what they would say when they come back is long past
	}
	chain := s.chain[:stages]
	mask := s.tune(b, second)
	feedback, mix := b.Controls[4].V[:b.N], b.Controls[5].V[:b.N]
	out := b.Out[0][:b.N]
	for i, x := range b.In[0][:b.N] {
		x = bound.In(x, &b.Clamped)
		c := &s.tuned[i&mask&(module.MaxBlock-1)]
		v := x
		if f := feedback[i]; f != 0 {
			y, direct := 0.0, 1.0
			if second {
				y, direct = c.lookSecond(chain)
			} else {
				y, direct = c.lookFirst(chain)
			}
			v = (x + float64(f*y)) / (1 - float64(f*direct))
		}
		var y float64
		if second {
			y = c.second(chain, v)
		} else {
			y = c.first(chain, v)
		}
		m := mix[i]
		out[i] = float64((1-m)*v) + float64(m*y)
		if s.quiet++; !(math.Abs(x) < silent && math.Abs(v) < silent && math.Abs(y) < silent) {
			s.quiet = 0
		} else if s.quiet == patient {
			clear(chain)
		}
	}
}

// first sends x through stages of the first order.
func (c *stage) first(states [][2]float64, x float64) float64 {
	for i := range states {
		t := states[i][0]
		states[i][0] = float64(c.sin*x) + float64(c.cos*t)
		x = float64(c.sin*t) - float64(c.cos*x)
	}
	return x
}

// lookFirst returns what would come out if nothing went in, and by what more
// for each 1 that does.
func (c *stage) lookFirst(states [][2]float64) (y, direct float64) {
	direct = 1
	for i := range states {
		y = float64(c.sin*states[i][0]) - float64(c.cos*y)
		direct = float64(-c.cos * direct)
	}
	return y, direct
}

// second sends x through stages of the second order.
func (c *stage) second(states [][2]float64, x float64) float64 {
	for i := range states {
		s := &states[i]
		inner := float64(c.wide*x) - float64(c.narrow*s[1])
		x = float64(c.narrow*x) + float64(c.wide*s[1])
		s[0], s[1] = float64(c.sin*inner)-float64(c.cos*s[0]), float64(c.cos*inner)+float64(c.sin*s[0])
	}
	return x
}

// lookSecond is lookFirst for stages of the second order.
func (c *stage) lookSecond(states [][2]float64) (y, direct float64) {
	direct = 1
	for i := range states {
		y = float64(c.narrow*y) + float64(c.wide*states[i][1])
		direct = float64(c.narrow * direct)
	}
	return y, direct
}

// tune fills tuned and returns a mask of the number of a sample: which of them
// it takes.
func (s *sound) tune(b *module.Block, second bool) int {
	centre, width := &b.Controls[0], &b.Controls[1]
	moving, mask := b.N, module.MaxBlock-1
	if centre.Steady && (width.Steady || !second) {
		moving, mask = 1, 0
	}
	for i := range moving {
		f := float64(centre.V[i] * s.inverse)
		if f > highest {
			f, b.Clamped = highest, true
		}
		n, d := approx.TanParts(f)
		if second {
			s.tuned[i].setSecond(n, d, width.V[i])
		} else {
			s.tuned[i].setFirst(n, d)
		}
	}
	return mask
}

// setFirst: with g = n/d = tan(pi centre/rate) the cosine is (1 - g)/(1 + g).
func (c *stage) setFirst(n, d float64) {
	a := 1 / (n + d)
	c.cos, c.sin = float64((d-n)*a), float64(float64(2*math.Sqrt(float64(n*d)))*a)
}

// setSecond: the inner angle is that of -cos(2 pi centre/rate), the outer one's
// cosine is (1 - t)/(1 + t) with t = sin(2 pi centre/rate)/(2 Q), as in the
// cookbook.
func (c *stage) setSecond(n, d, q float64) {
	nn, dd, nd := float64(n*n), float64(d*d), float64(n*d)
	a := 1 / (nn + dd)
	c.cos, c.sin = float64((nn-dd)*a), float64(float64(2*nd)*a)
	t := float64(nd*a) / q
	a = 1 / (1 + t)
	c.narrow, c.wide = float64((1-t)*a), float64(float64(2*math.Sqrt(t))*a)
}
