package filter

import (
	"lampblack/patch/dsp/approx"
	"lampblack/patch/module"
)

const highest = 0.49 // of the sample rate: the highest cutoff and width

// The scales of width.
const (
	inHz = iota
	asQ
	inOctaves
)

// tuner turns cutoff and width into coefficients.
type tuner struct {
	inverse float64                       // 1 / sample rate
	k       float64                       // 1/Q of the last sample, 0 before the first
	tuned   [module.MaxBlock]coefficients // of the samples of a block
	moved   bool                          // whether k moves within the block
	mask    int                           // of the number of a sample: which of tuned it takes
	first   tuning                        // that of tuned[0], if it stood still and was within range
	hz      struct{ width, tan float64 }  // tan(pi width/rate) of the last width in Hz
	oct     octaves                       // of the last width in octaves
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

	moved        bool    // k is not that of the sample before:
	keep1, keep2 float64 // what the states of ring are multiplied by

	nn, dd, nd float64 // g = n/d
}

// tune fills tuned and returns its mask: 0 if the block has one tuning.
func (t *tuner) tune(b *module.Block) int {
	cutoff, width := &b.Controls[0], &b.Controls[1]
	moving := b.N
	t.mask = module.MaxBlock - 1
	still := cutoff.Steady && width.Steady
	now := tuning{cutoff.V[0], width.V[0], width.Scale}
	if still {
		moving, t.mask = 1, 0
	}
	if still && now == t.first {
		t.moved = false
		return 0 // in a loop a block is one sample long, and tuning costs more than filtering
	}
	t.first, t.moved = tuning{}, false
	for i := range moving {
		c := &t.tuned[i]
		k := t.coefficients(c, cutoff.V[i], width.V[i], width.Scale, &b.Clamped)
		if c.moved = k != t.k && t.k != 0; c.moved {
			c.keep(t.k, k)
			t.moved = true
		}
		t.k = k
	}
	if still && !b.Clamped {
		t.first = now
	}
	return t.mask
}

// keep decides what becomes of the states of ring when k goes from one value
// to another.
//
// z = k v rings as loudly as the band does, whatever k is, and without an input
// it can only lose energy: z1'^2 + z2'^2 - z1^2 - z2^2 = 4 g k z1 (x - z1), with
// z1 that of the sample between the two. So ring keeps k v, and no movement of
// cutoff and width makes it grow. But a steady input x holds z2 at k x, which
// would ring when k falls from a large value; as nothing rings while k > 2
// (Q < 0.5), z2 is then taken back in the same measure. That, too, only takes
// energy away.
func (c *coefficients) keep(from, to float64) {
	c.keep1 = from / to
	c.keep2 = float64(c.keep1 * settle(from, to))
}

// settle is what z2 is multiplied by when k goes from one value to another.
func settle(from, to float64) float64 {
	if from > 2 && to < from {
		return max(to, 2) / from
	}
	return 1
}

// coefficients fills c for a cutoff in Hz and a width, and returns k.
func (t *tuner) coefficients(c *coefficients, cutoff, width float64, scale int, clamped *bool) (k float64) {
	f := float64(cutoff * t.inverse)
	if f > highest {
		f, *clamped = highest, true
	}
	n, d := approx.TanParts(f) // g = n/d
	nn, dd, nd := float64(n*n), float64(d*d), float64(n*d)
	var a float64 // that of the formula over d squared
	if scale == asQ {
		k = 1 / width
		a = width / (float64((dd+nn)*width) + nd)
	} else {
		// The points 3.01 dB down are exactly width apart when
		// k = tan(pi width/rate) (1 + g^2)/g; then 1 + g(g + k) = (1 + g^2)(1 + tan).
		var tan float64
		if scale == inHz {
			tan = t.tan(width)
		} else {
			if width != t.oct.width {
				t.oct = octavesOf(width)
			}
			tan = t.oct.tan(f, nn/(dd+nn))
		}
		k = float64(tan*(dd+nn)) / nd
		a = 1 / float64((dd+nn)*(1+tan))
	}
	a *= 2
	c.own1, c.cross, c.in2, c.half = float64(a*dd)-1, float64(a*nd), float64(a*nn), k/2
	c.nn, c.dd, c.nd = nn, dd, nd
	return k
}

// tan returns tan(pi width/rate), remembered for as long as the width stays.
func (t *tuner) tan(width float64) float64 {
	if width != t.hz.width {
		t.hz.width = width
		t.hz.tan = approx.Tan(min(float64(width*t.inverse), highest))
	}
	return t.hz.tan
}
