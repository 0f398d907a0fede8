package dcblock

import (
	"math"

	"lampblack/patch/dsp/approx"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

const (
	silent  = 1e-15 // a state below it (-300 dB) becomes 0
	runaway = 1e12  // a state beyond it is reset: only an input without bounds gets there
)

type sound struct {
	inverse float64            // 1 / sample rate
	s1, s2  float64            // states of the integrators; one pole has the first
	rates   [module.MaxBlock]g // of the samples of a block
	first   [2]float64         // cutoff and poles of rates[0], if they stood still
}

// g is tan(pi cutoff/rate), and a what the equation of the loop is divided by:
// 1/(1 + g), or 1/(1 + g(g + sqrt 2)).
type g struct{ g, a float64 }

func newSound(s module.Setup) module.Sound { return &sound{inverse: 1 / s.Rate} }

func (s *sound) Block(b *module.Block) {
	two := control.Number(b.Controls[1].V[0], 1)
	mask := s.tune(b, two)
	in, out := b.In[0][:b.N], b.Out[0][:b.N]
	if two == 1 {
		s.twoPoles(out, in, mask, &b.Clamped)
	} else {
		s.s2 = 0
		s.onePole(out, in, mask, &b.Clamped)
	}
}

// onePole: v follows x, and what it lacks is the output.
func (s *sound) onePole(out, in []float64, mask int, clamped *bool) {
	s1 := s.s1
	for i, x := range in {
		c := &s.rates[i&mask&(module.MaxBlock-1)]
		high := float64((x - s1) * c.a)
		out[i] = high
		s1 += float64(float64(2*c.g) * high)
		if a := math.Abs(s1); !(a >= silent && a <= runaway) {
			s1 = forget(a, clamped)
		}
	}
	s.s1 = s1
}

// twoPoles is a state-variable filter of Q 1/sqrt 2 whose slow integrator is the
// first: v1 is the low-pass, so that the pole of one follows on from it.
func (s *sound) twoPoles(out, in []float64, mask int, clamped *bool) {
	s1, s2 := s.s1, s.s2
	for i, x := range in {
		c := &s.rates[i&mask&(module.MaxBlock-1)]
		high := float64((x - s1 - float64((c.g+math.Sqrt2)*s2)) * c.a)
		out[i] = high
		step := float64(c.g * high)
		band := step + s2
		s2 = step + band
		s1 += float64(float64(2*c.g) * band)
		// Both or none: a state that is put to rest alone would hold the other.
		if a := math.Abs(s1) + math.Abs(s2); !(a >= silent && a <= runaway) {
			s1, s2 = forget(a, clamped), 0
		}
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

// tune fills rates and returns a mask of the number of a sample: which of them
// it takes.
func (s *sound) tune(b *module.Block, two int) int {
	cutoff := &b.Controls[0]
	moving, mask, now := b.N, module.MaxBlock-1, [2]float64{cutoff.V[0], float64(two)}
	if cutoff.Steady && now == s.first {
		return 0
	}
	if s.first = [2]float64{}; cutoff.Steady {
		moving, mask, s.first = 1, 0, now
	}
	for i := range moving {
		v := approx.Tan(float64(cutoff.V[i] * s.inverse))
		c := &s.rates[i]
		if c.g, c.a = v, 1/(1+v); two == 1 {
			c.a = 1 / (1 + float64(v*(v+math.Sqrt2)))
		}
	}
	return mask
}
