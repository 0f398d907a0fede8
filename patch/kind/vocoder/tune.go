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

// tune puts the bands where they belong, those of the voice and those of the
// carrier only if they have moved. Bands that were not there before begin in
// silence.
func (s *sound) tune(t tuning) {
	before := s.tuned
	for k := before.count; k < t.count; k++ {
		s.analysers[k].rest()
	}
	for k := max(before.count-1, 0); k < t.count-1; k++ {
		s.splits[k].rest()
	}
	s.tuned = t
	e := t.edges()
	voice, carrier := before, before
	if voice.shift = t.shift; voice != t {
		s.tuneVoice(t, e)
	}
	if carrier.width = t.width; carrier != t {
		up := approx.Exp2(t.shift)
		for k := range t.count - 1 {
			s.splits[k].corner = newCorner(s.warped(float64(e.at(k+1) * up)))
		}
	}
}

// tuneVoice tunes the analysers.
func (s *sound) tuneVoice(t tuning, e edges) {
	below := s.warped(t.lowest)
	for k := range t.count {
		above := max(s.warped(e.at(k+1)), float64(1.001*below))
		s.analysers[k].tune(below, above, t.width)
		below = above
	}
}

// warped returns tan(pi f/rate) for a frequency in Hz.
func (s *sound) warped(hz float64) float64 {
	return approx.Tan(min(float64(hz*s.inverse), edgeMost))
}

// edges say where the bands meet: from the lowest on, even in octaves of the
// frequency, or of 1 + ear times it.
type edges struct {
	ear             bool
	lowest, octaves float64
	count           float64
}

func (t tuning) edges() edges {
	e := edges{count: float64(t.count), lowest: t.lowest, ear: t.spacing == 1}
	if !e.ear {
		e.octaves = logarithm.Log2(t.highest / t.lowest)
		return e
	}
	// Glasberg and Moore's number of critical bands is 21.4 log10(1 + 4.37 f/kHz).
	e.lowest = 1 + float64(ear*t.lowest)
	e.octaves = logarithm.Log2((1 + float64(ear*t.highest)) / e.lowest)
	return e
}

// at returns edge k of count+1, in Hz.
func (e *edges) at(k int) float64 {
	f := float64(e.lowest * approx.Exp2(float64(float64(k)/e.count*e.octaves)))
	if e.ear {
		return (f - 1) / ear
	}
	return f
}

// ear is Glasberg and Moore's 4.37 per kHz.
const ear = 0.00437
