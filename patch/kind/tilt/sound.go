package tilt

import (
	"math"

	"lampblack/patch/dsp/approx"
	"lampblack/patch/module"
)

const (
	highest = 0.49  // of the sample rate: the highest pivot
	silent  = 1e-15 // a state below it (-300 dB) becomes 0
	runaway = 1e12  // a state beyond it is reset: only an input without bounds gets there
)

type sound struct {
	inverse float64                       // 1 / sample rate
	before  float64                       // the input one sample ago
	low     float64                       // the low-pass one sample ago
	tuned   [module.MaxBlock]coefficients // of the samples of a block
	first   [2]float64                    // pivot and tilt of tuned[0], if they stood still and were within range
}

// coefficients: with the low-pass l of gain A/(A + s), whose states are its own
// last output and input (they stay as large as the signal, wherever the pole
// jumps), the output is A x + (1/A - A) l.
type coefficients struct {
	direct, low float64 // A, 1/A - A
	keep, in    float64 // of l: its last output, and the sum of two inputs
}

func newSound(s module.Setup) module.Sound { return &sound{inverse: 1 / s.Rate} }

func (s *sound) Block(b *module.Block) {
	mask := s.tune(b)
	in, out := b.In[0][:b.N], b.Out[0][:b.N]
	low, before := s.low, s.before
	for i, x := range in {
		c := &s.tuned[i&mask&(module.MaxBlock-1)]
		low = float64(c.keep*low) + float64(c.in*(x+before))
		before = x
		out[i] = float64(c.direct*x) + float64(c.low*low)
		if a := math.Abs(low); !(a >= silent && a <= runaway) {
			if !(a <= runaway) {
				b.Clamped, before = true, 0
			}
			low = 0
		}
	}
	s.low, s.before = low, before
}

// tune fills tuned and returns a mask of the number of a sample: which of them
// it takes.
func (s *sound) tune(b *module.Block) int {
	pivot, tilt := &b.Controls[0], &b.Controls[1]
	moving, mask := b.N, module.MaxBlock-1
	still, now := pivot.Steady && tilt.Steady, [2]float64{pivot.V[0], tilt.V[0]}
	if still && now == s.first {
		return 0
	}
	if s.first = [2]float64{}; still {
		moving, mask = 1, 0
	}
	for i := range moving {
		f := float64(pivot.V[i] * s.inverse)
		if f > highest {
			f, b.Clamped = highest, true
		}
		n, d := approx.TanParts(f)
		gain := tilt.V[i]
		n = float64(n * gain) // the pole lies at A times the pivot
		a := 1 / (n + d)
		s.tuned[i] = coefficients{gain, 1/gain - gain, float64((d - n) * a), float64(n * a)}
	}
	if still && !b.Clamped {
		s.first = now
	}
	return mask
}
