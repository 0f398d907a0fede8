package ladder

import (
	"math"

	"lampblack/patch/dsp/approx"
	"lampblack/patch/dsp/hash"
	"lampblack/patch/module"
)

const (
	highest = 0.49  // of the sample rate: the highest cutoff
	loudest = 1e6   // of the input; a larger one is held there
	noise   = 1e-6  // -120 dB: what a singing filter starts from
	silent  = 1e-15 // -300 dB: what counts as nothing
	patient = 2048  // samples of nothing in and out, after which the states are at rest
	single  = 88200 // the sample rate from which on it runs at that rate
)

type sound struct {
	rate    float64 // samples a second
	inverse float64 // 1 / the rate at which the poles run
	double  bool    // they run at twice the sample rate
	seed    uint64

	at    uint64 // samples run
	quiet int    // samples of nothing in and out, up to now
	poles poles
	up    branches
	down  branches

	tuned  [module.MaxBlock]coefficients // of the samples of a block
	first  [4]float64                    // the controls of tuned[0], if they stood still and were within range
	inside [2 * module.MaxBlock]float64  // the signal at the poles' rate
}

func newSound(s module.Setup) module.Sound {
	l := &sound{rate: s.Rate, seed: s.Seed, double: s.Rate < single}
	l.inverse = 1 / s.Rate
	if l.double {
		l.inverse = 1 / (2 * s.Rate)
	}
	return l
}

// coefficients are of one sample. Every pole is a trapezoidal integrator with
// g = tan(pi cutoff/rate): with G = g/(1 + g) and a = 1/(1 + g) its output is
// G x + a s and its next state 2G x + (2a - 1) s.
type coefficients struct {
	in                float64 // the input into the saturation
	b1, b2, b3, b4    float64 // the states into the saturation
	noise             float64 // noise into the saturation
	a, g1, g2, g3, g4 float64 // a, G, G^2, G^3, G^4
	keep, h1          float64 // 2a - 1, 2G
}

func (s *sound) Block(b *module.Block) {
	mask := s.tune(b)
	in, out, inside := b.In[0][:b.N], b.Out[0][:b.N], &s.inside
	// What comes in is kept in out until it is known whether all is quiet.
	for i, x := range in {
		if !(x >= -loudest && x <= loudest) {
			b.Clamped = true
			if x != x {
				x = 0
			}
			x = min(max(x, -loudest), loudest)
		}
		out[i] = x
	}
	// As many samples as can pass before the states may have to be put to rest
	// (which depends on the output) are run at once.
	for from := 0; from < b.N; {
		to := min(b.N, from+max(patient-s.quiet, 1))
		s.span(out[from:to], inside, from, mask)
		from = to
	}
}

// span filters x in place; its first sample is number from of the block.
func (s *sound) span(x []float64, inside *[2 * module.MaxBlock]float64, from, mask int) {
	var sounding [module.MaxBlock]bool
	for i, v := range x {
		sounding[i] = !(math.Abs(v) < silent) || s.tuned[(from+i)&mask].noise > 0
	}
	if s.double {
		copy(inside[:], x)
		s.up.double(inside[:2*len(x)])
		s.run(inside[:2*len(x)], from, mask, 1)
		s.down.halve(x, inside[:2*len(x)])
	} else {
		copy(inside[:], x)
		s.run(inside[:len(x)], from, mask, 0)
		copy(x, inside[:len(x)])
	}
	for i, v := range x {
		if s.quiet++; sounding[i] || !(math.Abs(v) < silent) {
			s.quiet = 0
		}
	}
	if s.quiet >= patient {
		s.quiet = 0
		s.poles, s.up, s.down = poles{}, branches{}, branches{}
	}
}

// poles is the state of the four poles, kept in two parts so that the next
// sample waits for the last one's saturation and for little else: the state of
// pole number i is rest[i] + 2 G^(i+1) u, u the saturated signal.
type poles struct {
	rest, g [4]float64
	u       float64
}

// run sends x through saturation and poles, in place. Number i of x belongs to
// sample from + i>>half of the block.
//
// The equations of the loop, v = in x - k y4, u = saturate(v), y4 = G^4 u + (the
// states' part), have a v that depends on itself through u. It is solved with u
// = v, which is exact for weak signals, and then saturated: that is a bend of
// v/(1 + kG^4) instead of v, and as the turn of the loop does not depend on the
// bend, the tuning is the same.
func (s *sound) run(x []float64, from, mask, half int) {
	r1, r2, r3, r4 := s.poles.rest[0], s.poles.rest[1], s.poles.rest[2], s.poles.rest[3]
	g1, g2, g3, g4, u := s.poles.g[0], s.poles.g[1], s.poles.g[2], s.poles.g[3], s.poles.u
	for i, in := range x {
		c := &s.tuned[(from+i>>half)&mask&(module.MaxBlock-1)]
		still := float64(in*c.in) - (float64(c.b1*r1) + float64(c.b2*r2)) - (float64(c.b3*r3) + float64(c.b4*r4))
		if c.noise > 0 {
			still += float64(c.noise * hash.Signed(s.seed, s.at<<half+uint64(i)))
		}
		back := 2 * (float64(c.b1*g1) + float64(c.b2*g2) + (float64(c.b3*g3) + float64(c.b4*g4)))
		twice := 2 * u
		s1, s2, s3, s4 := r1+float64(g1*twice), r2+float64(g2*twice), r3+float64(g3*twice), r4+float64(g4*twice)
		u = saturate(still - float64(back*u))
		g1, g2, g3, g4 = c.g1, c.g2, c.g3, c.g4
		t1 := float64(c.a * s1)
		t2 := float64(g1*t1) + float64(c.a*s2)
		t3 := float64(g1*t2) + float64(c.a*s3)
		t4 := float64(g1*t3) + float64(c.a*s4)
		x[i] = float64(g4*u) + t4
		r1 = float64(c.keep * s1)
		r2 = float64(c.h1*t1) + float64(c.keep*s2)
		r3 = float64(c.h1*t2) + float64(c.keep*s3)
		r4 = float64(c.h1*t3) + float64(c.keep*s4)
	}
	s.poles = poles{[4]float64{r1, r2, r3, r4}, [4]float64{g1, g2, g3, g4}, u}
	s.at += uint64(len(x) >> half)
}

// saturate bends v as tanh does, within 0.024 of it: the fraction is tanh's own
// continued fraction, which reaches 1 with a slope of 0 at v = 3.
// Source: Abramowitz and Stegun, 4.5.70.
func saturate(v float64) float64 {
	if v > 3 {
		v = 3
	} else if v < -3 {
		v = -3
	}
	vv := float64(v * v)
	return float64(v*(27+vv)) / (27 + float64(9*vv))
}

// tune fills tuned and returns a mask of the number of a sample: which of them
// it takes.
func (s *sound) tune(b *module.Block) int {
	moving, mask := b.N, module.MaxBlock-1
	c := b.Controls
	still := c[0].Steady && c[1].Steady && c[2].Steady && c[3].Steady
	now := [4]float64{c[0].V[0], c[1].V[0], c[2].V[0], c[3].V[0]}
	if still && now == s.first {
		return 0 // in a loop a block is one sample long, and tuning costs more than filtering
	}
	if s.first = [4]float64{}; still {
		moving, mask = 1, 0
	}
	for i := range moving {
		cutoff := c[0].V[i]
		if cutoff > highest*s.rate {
			cutoff, b.Clamped = highest*s.rate, true
		}
		s.tuned[i].set(float64(cutoff*s.inverse), float64(4*c[1].V[i]), c[2].V[i], c[3].V[i])
	}
	if still && !b.Clamped {
		s.first = now
	}
	return mask
}

// set computes the coefficients for a cutoff over the rate.
func (c *coefficients) set(f, k, drive, bass float64) {
	c.noise = 0
	if k >= 4 {
		c.noise = noise
		f = float64(f * singing(f, k))
	}
	n, d := approx.TanParts(f)
	a := 1 / (n + d)
	g := float64(n * a)
	a = float64(d * a)
	gg := float64(g * g)
	c.a, c.g1, c.g2, c.g3, c.g4 = a, g, gg, float64(gg*g), float64(gg*gg)
	c.keep, c.h1 = float64(2*a)-1, float64(2*g)
	e := 1 / (1 + float64(k*c.g4))
	c.in = float64(float64(e*drive) * (1 + float64(bass*k)))
	c.noise = float64(c.noise * e)
	e = float64(float64(e*k) * a)
	c.b1, c.b2, c.b3, c.b4 = float64(e*c.g3), float64(e*gg), float64(e*g), e
}

// singing is what a cutoff f (over the rate) is multiplied by from k = 4 on.
//
// The third harmonic that saturation makes goes round the loop as well and meets
// the saturation again, which draws the frequency down, by 1.6 cents at k = 6;
// less towards an eighth of the rate, where the trapezoidal rule lets less of
// it through. The curves were fitted to what the loop does without them; with
// them it keeps within 0.3 cents (see the test).
func singing(f, k float64) float64 {
	const cent = math.Ln2 / 1200
	d := k - 4
	cents := 0.7138 * float64(d*d) / (1 + float64(0.3995*d))
	y := min(float64(64*float64(f*f)), 1)
	return 1 + float64(float64(float64(cents*cent)*(1-y))*(1-float64(0.6*y)))
}
