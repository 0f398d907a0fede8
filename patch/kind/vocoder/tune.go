package vocoder

import (
	"lampblack/patch/dsp/approx"
	"lampblack/patch/dsp/logarithm"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// tuning is all that the bands' places are computed from.
type tuning struct {
	count, spacing                int
	lowest, highest, width, shift float64
}

// wanted is the tuning of sample i.
func wanted(c []module.Control, i int) tuning {
	return tuning{
		count:   least + control.Number(c[bands].V[i]-least, most-least),
		spacing: control.Number(c[spacing].V[i], 1),
		lowest:  c[lowest].V[i], highest: c[highest].V[i],
		width: c[width].V[i], shift: c[shift].V[i],
	}
}

// tune puts the bands where they belong. Bands that were not there before begin
// in silence.
func (s *sound) tune(t tuning) {
	for k := s.tuned.count; k < t.count; k++ {
		s.analysers[k].rest()
	}
	for k := max(s.tuned.count-1, 0); k < t.count-1; k++ {
		s.splits[k].rest()
	}
	s.tuned = t
	up := approx.Exp2(t.shift)
	below := s.warped(t.lowest)
	for k := range t.count {
		hz := t.edge(k + 1)
		above := max(s.warped(hz), float64(1.001*below))
		s.analysers[k].tune(below, above, t.width)
		if k < t.count-1 {
			s.splits[k].corner = newCorner(s.warped(float64(hz * up)))
		}
		below = above
	}
}

// warped returns tan(pi f/rate) for a frequency in Hz.
func (s *sound) warped(hz float64) float64 {
	return approx.Tan(min(float64(hz*s.inverse), edgeMost))
}

// edge returns edge k of count+1, in Hz, lowest for 0.
func (t tuning) edge(k int) float64 {
	share := float64(k) / float64(t.count)
	if t.spacing == 0 {
		return float64(t.lowest * approx.Exp2(float64(share*logarithm.Log2(t.highest/t.lowest))))
	}
	// Glasberg and Moore's number of critical bands is 21.4 log10(1 + 4.37 f/kHz).
	low, high := 1+float64(ear*t.lowest), 1+float64(ear*t.highest)
	return (float64(low*approx.Exp2(float64(share*logarithm.Log2(high/low)))) - 1) / ear
}

// ear is Glasberg and Moore's 4.37 per kHz.
const ear = 0.00437
