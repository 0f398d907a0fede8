package loudness

import (
	"math"

	"lampblack/patch/dsp/bound"
	"lampblack/patch/dsp/logarithm"
	"lampblack/patch/dsp/rc"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// What is followed, by its place in the choice.
const (
	rms = iota
	mean
	peak
)

// The controls, by their place.
const (
	detection = iota
	attack
	release
	gain
	span
)

type sound struct {
	rate      float64
	detection int
	average   float64 // of |x|, x^2 or the held peaks
	held      float64 // the highest, falling by release
	attack    rc.Step
	release   rc.Step
	span      ratio
}

// ratio is one over the octaves in a ratio, kept for as long as that stays.
type ratio struct{ of, share float64 }

// least is the smallest range of level as a factor; the control ends above.
const least = 2

func (r *ratio) octave(of float64) float64 {
	if of != r.of {
		r.of = of
		r.share = 1 / logarithm.Log2(max(of, least))
	}
	return r.share
}

func newSound(s module.Setup) module.Sound { return &sound{rate: s.Rate} }

// Block follows the sound. The logarithms come last, for all samples: they wait
// for nothing.
func (s *sound) Block(b *module.Block) {
	in, out, level, c := b.In[0][:b.N], b.Out[0][:b.N], b.Out[1][:b.N], b.Controls
	kinds, attacks, releases := c[detection].V[:b.N], c[attack].V[:b.N], c[release].V[:b.N]
	for i, x := range in {
		if d := control.Number(kinds[i], peak); d != s.detection {
			s.change(d)
		}
		step := s.attack.Of(float64(attacks[i] * s.rate))
		keep := 1 - s.release.Of(float64(releases[i]*s.rate))
		r := math.Abs(bound.In(x, &b.Clamped))
		switch s.detection {
		case rms:
			// Flushed as a power: its root is then 0 or at least 1e-13.
			s.average = flushPower(s.average + float64(step*(float64(r*r)-s.average)))
			s.hold(math.Sqrt(s.average), keep)
		case mean:
			s.average = bound.Flush(s.average + float64(step*(r-s.average)))
			s.hold(s.average, keep)
		default:
			s.hold(r, keep)
			s.average = bound.Flush(s.average + float64(step*(s.held-s.average)))
			out[i] = s.average
			continue
		}
		out[i] = s.held
	}
	s.write(out, level, c[gain].V[:b.N], c[span].V[:b.N])
}

// write applies the gain and tells the level.
func (s *sound) write(out, level, gains, spans []float64) {
	for i, y := range out {
		y = float64(y * gains[i])
		v := 0.0
		if y > 0 {
			v = 1 + float64(logarithm.Log2(y)*s.span.octave(spans[i]))
		}
		if !(v > 0) {
			v = 0
		} else if v > 1 {
			v = 1
		}
		if y > 1 {
			y = 1
		}
		out[i], level[i] = y, v
	}
}

// hold lets the held value fall, but not below y.
func (s *sound) hold(y, keep float64) {
	held := bound.Flush(float64(s.held * keep))
	if held < y {
		held = y
	}
	s.held = held
}

// flushPower is bound.Flush for a square.
func flushPower(p float64) float64 {
	if p < 1e-26 {
		return 0
	}
	return p
}

// change goes on from the voltage that has been reached.
func (s *sound) change(d int) {
	y := s.held
	if s.detection == peak {
		y = s.average
	}
	s.detection, s.held, s.average = d, y, y
	if d == rms {
		s.average = float64(y * y)
	}
}
