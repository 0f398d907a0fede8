package gate

import (
	"lampblack/patch/dsp/bound"
	"lampblack/patch/dsp/hiss"
	"lampblack/patch/dsp/rc"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// What opens it, by its place in the choice.
const (
	whatever = iota
	voiced
	hissing
)

// The controls, by their place.
const (
	opens = iota
	threshold
	hysteresis
	hold
	response
)

// sweep is after how many samples what has vanished is forgotten.
const sweep = 64

type sound struct {
	rate     float64
	inverse  float64 // 1 / rate
	at       int     // samples since the last sweep
	power    float64 // mean square
	detector hiss.Detector
	open     bool
	low      float64 // seconds since the level was last high enough to keep it open
	response rc.Step
}

func newSound(s module.Setup) module.Sound {
	return &sound{rate: s.Rate, inverse: 1 / s.Rate, detector: hiss.New(s.Rate)}
}

// Block listens, sample by sample.
func (s *sound) Block(b *module.Block) {
	in, gate, trigger, c := b.In[0][:b.N], b.Out[0][:b.N], b.Out[1][:b.N], b.Controls
	kinds, highs, falls := c[opens].V[:b.N], c[threshold].V[:b.N], c[hysteresis].V[:b.N]
	holds, times := c[hold].V[:b.N], c[response].V[:b.N]
	for i, x := range in {
		x = bound.In(x, &b.Clamped)
		s.power += float64(s.response.Of(float64(times[i]*s.rate)) * (float64(x*x) - s.power))
		hisses := s.detector.Next(x)
		kind := control.Number(kinds[i], hissing)
		wanted := kind == whatever || hisses == (kind == hissing)
		gate[i], trigger[i] = 0, 0
		if s.decide(wanted, highs[i], falls[i], holds[i]) {
			trigger[i] = 1
		}
		if s.open {
			gate[i] = 1
		}
		if s.at++; s.at == sweep {
			s.at = 0
			s.detector.Flush()
			if s.power < 1e-30 {
				s.power = 0
			}
		}
	}
}

// decide opens or shuts, and reports whether it has opened. high is the level
// that opens it; it stays open down to high/fall.
func (s *sound) decide(wanted bool, high, fall, hold float64) bool {
	if !s.open {
		s.open = wanted && s.power > float64(high*high)
		s.low = 0
		return s.open
	}
	if wanted && float64(s.power*float64(fall*fall)) > float64(high*high) {
		s.low = 0
		return false
	}
	s.low += s.inverse
	s.open = s.low < hold
	return false
}
