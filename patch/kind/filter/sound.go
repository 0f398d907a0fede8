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
}

// coefficients of one sample: with g = tan(pi cutoff/rate) and k = 1/Q,
// a1 = 1/(1 + g(g + k)), a2 = g a1, a3 = g a2.
type coefficients struct{ a1, a2, a3, k float64 }

func newSound(s module.Setup) module.Sound { return &sound{inverse: 1 / s.Rate} }

// Block filters. All four outputs come from the same two states.
func (s *sound) Block(b *module.Block) {
	in := b.In[0][:b.N]
	low, band, high, notch := b.Out[0][:b.N], b.Out[1][:b.N], b.Out[2][:b.N], b.Out[3][:b.N]
	cutoff, width, peak := &b.Controls[0], &b.Controls[1], b.Controls[2].V[:b.N]
	steady := cutoff.Steady && width.Steady
	var c coefficients
	for i, x := range in {
		if i == 0 || !steady {
			c = s.tune(cutoff.V[i], width.V[i], width.Scale, &b.Clamped)
		}
		v3 := x - s.s2
		v1 := float64(c.a1*s.s1) + float64(c.a2*v3)
		v2 := s.s2 + float64(c.a2*s.s1) + float64(c.a3*v3)
		s.s1 = s.keep(2*v1-s.s1, &b.Clamped)
		s.s2 = s.keep(2*v2-s.s2, &b.Clamped)
		kv1 := float64(c.k * v1)
		low[i] = v2
		band[i] = float64(kv1 * peak[i])
		high[i] = x - kv1 - v2
		notch[i] = x - kv1
	}
}

// tune computes the coefficients for a cutoff in Hz and a width in Hz (scale
// 0) or as Q (scale 1).
func (s *sound) tune(cutoff, width float64, scale int, clamped *bool) coefficients {
	f := float64(cutoff * s.inverse)
	if f > highest {
		f, *clamped = highest, true
	}
	n, d := approx.TanParts(f)
	nn, dd, nd := float64(n*n), float64(d*d), float64(n*d)
	if scale == 1 {
		k := 1 / width
		a := 1 / (dd + nn + float64(k*nd))
		return coefficients{float64(dd * a), float64(nd * a), float64(nn * a), k}
	}
	if width != s.widthV {
		s.widthV = width
		s.tanW = approx.Tan(min(float64(width*s.inverse), highest))
	}
	// The points 3.01 dB down are exactly width apart when
	// k = tan(pi width/rate) (1 + g^2)/g; then 1 + g(g + k) = (1 + g^2)(1 + tan).
	a := 1 / float64((dd+nn)*(1+s.tanW))
	return coefficients{float64(dd * a), float64(nd * a), float64(nn * a), float64(s.tanW*(dd+nn)) / nd}
}

// keep returns a state that is worth keeping: neither vanishing nor without bounds.
func (s *sound) keep(x float64, clamped *bool) float64 {
	a := math.Abs(x)
	if a >= silent && a <= runaway {
		return x
	}
	if !(a <= runaway) { // NaN too
		*clamped = true
	}
	return 0
}
