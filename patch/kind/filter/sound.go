package filter

import (
	"math"

	"lampblack/patch/dsp/approx"
	"lampblack/patch/module"
)

const (
	highest = 0.49  // of the sample rate: the highest cutoff and width
	silent  = 1e-15 // a state below it (-300 dB) becomes 0
	runaway = 1e12  // a state beyond it is reset: only an input without bounds gets there
)

type sound struct {
	inverse float64 // 1 / sample rate
	s1, s2  float64 // states of the two integrators
	widthV  float64 // the width in Hz for which tanW was computed
	tanW    float64
	tuned   [module.MaxBlock]coefficients // of the samples of a block
	first   tuning                        // that of tuned[0], if it stood still and was within range
}

// tuning is what coefficients are computed from.
type tuning struct {
	cutoff, width float64
	scale         int
}

// coefficients advance the states by one sample. With g = tan(pi cutoff/rate),
// k = 1/Q and a = 1/(1 + g(g + k)), Simper's equations
//
//	v1 = a (s1 + g (x - s2)),  v2 = s2 + g v1,  s1' = 2 v1 - s1,  s2' = 2 v2 - s2
//
// are multiplied out, so that a state waits for two sums and not for five.
type coefficients struct {
	own1  float64 // s1 into s1': 2a - 1
	cross float64 // x - s2 into s1', s1 into s2': 2ag
	in2   float64 // x into s2': 2agg; s2 into s2' is the rest to 1
	half  float64 // k/2: v1 is the mean of s1 and s1'
}

func newSound(s module.Setup) module.Sound { return &sound{inverse: 1 / s.Rate} }

// Block filters. Tuning comes first, for all samples that need it: it waits for
// no state, so it runs at full speed.
func (s *sound) Block(b *module.Block) {
	cutoff, width := &b.Controls[0], &b.Controls[1]
	moving := b.N
	mask := module.MaxBlock - 1 // of the number of a sample: which coefficients it takes
	still := cutoff.Steady && width.Steady
	now := tuning{cutoff.V[0], width.V[0], width.Scale}
	if still {
		moving, mask = 1, 0
	}
	if still && now == s.first {
		moving = 0 // in a loop a block is one sample long, and tuning costs more than filtering
	} else {
		s.first = tuning{}
	}
	for i := range moving {
		s.tuned[i] = s.tune(cutoff.V[i], width.V[i], width.Scale, &b.Clamped)
	}
	if still && !b.Clamped {
		s.first = now
	}
	s.run(b, mask)
}

// run gives all four outputs from the same two states.
func (s *sound) run(b *module.Block, mask int) {
	in, peak := b.In[0][:b.N], b.Controls[2].V[:b.N]
	low, band, high, notch := b.Out[0][:b.N], b.Out[1][:b.N], b.Out[2][:b.N], b.Out[3][:b.N]
	s1, s2 := s.s1, s.s2
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
		if a := math.Abs(n1); !(a >= silent && a <= runaway) {
			n1 = forget(a, &b.Clamped)
		}
		if a := math.Abs(n2); !(a >= silent && a <= runaway) {
			n2 = forget(a, &b.Clamped)
		}
		s1, s2 = n1, n2
	}
	s.s1, s.s2 = s1, s2
}

// forget resets a state of size a that has vanished, or has no bounds or is no
// number, which is to be said.
func forget(a float64, clamped *bool) float64 {
	if !(a <= runaway) {
		*clamped = true
	}
	return 0
}

// tune computes the coefficients for a cutoff in Hz and a width in Hz (scale
// 0) or as Q (scale 1).
func (s *sound) tune(cutoff, width float64, scale int, clamped *bool) coefficients {
	f := float64(cutoff * s.inverse)
	if f > highest {
		f, *clamped = highest, true
	}
	n, d := approx.TanParts(f) // g = n/d
	nn, dd, nd := float64(n*n), float64(d*d), float64(n*d)
	var k, a float64 // a: that of the formula over d squared
	if scale == 1 {
		k = 1 / width
		a = width / (float64((dd+nn)*width) + nd)
	} else {
		// The points 3.01 dB down are exactly width apart when
		// k = tan(pi width/rate) (1 + g^2)/g; then 1 + g(g + k) = (1 + g^2)(1 + tan).
		t := s.tan(width)
		k = float64(t*(dd+nn)) / nd
		a = 1 / float64((dd+nn)*(1+t))
	}
	a *= 2
	return coefficients{float64(a*dd) - 1, float64(a * nd), float64(a * nn), k / 2}
}

// tan returns tan(pi width/rate), remembered for as long as the width stays.
func (s *sound) tan(width float64) float64 {
	if width != s.widthV {
		s.widthV = width
		s.tanW = approx.Tan(min(float64(width*s.inverse), highest))
	}
	return s.tanW
}
