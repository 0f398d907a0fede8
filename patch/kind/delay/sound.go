package delay

import (
	"math"

	"lampblack/patch/dsp/line"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

const (
	fadeSeconds     = 0.03 // of a cross-fade
	patienceSeconds = 0.08 // for how long one waits for a time to stand still: a setting needs 14 x 5 ms
)

type sound struct {
	rate, inverse float64 // samples a second, and 1 / that
	tape          line.Line
	low, high     line.Cut
	heads         heads
}

func newSound(s module.Setup) module.Sound {
	return &sound{
		rate: s.Rate, inverse: 1 / s.Rate, tape: line.New(float64(Longest * s.Rate)),
		heads: heads{step: 1 / math.Floor(fadeSeconds*s.Rate), patience: int(patienceSeconds * s.Rate), gain: 100 / s.Rate},
	}
}

// Block plays, cuts, records. The newest sample on the tape is one old when it
// is played, so a head stands one sample nearer than the time says.
func (s *sound) Block(b *module.Block) {
	in, out, echo := b.In[0][:b.N], b.Out[0][:b.N], b.Out[1][:b.N]
	time, feedback := b.Controls[0].V[:b.N], b.Controls[1].V[:b.N]
	low, high := b.Controls[2].V[:b.N], b.Controls[3].V[:b.N]
	ceiling, mix := b.Controls[4].V[:b.N], b.Controls[5].V[:b.N]
	fades := control.Number(b.Controls[6].V[0], 1) == 1
	for i := range out {
		s.heads.follow(whole(max(float64(time[i]*s.rate)-1, 0)), fades)
		y := s.heads.read(&s.tape)
		y = s.high.HighCut(y, high[i], s.inverse)
		y = s.low.LowCut(y, low[i], s.inverse)
		x := line.Safe(in[i], &b.Clamped)
		s.tape.Put(bend(line.Safe(x+float64(feedback[i]*y), &b.Clamped), ceiling[i]))
		plain, late := line.Balance(mix[i])
		echo[i] = y
		out[i] = float64(x*plain) + float64(y*late)
	}
}

// whole returns a place that is whole but for the rounding of a time in s as a
// whole number, so that the sample there is copied.
func whole(place float64) float64 {
	if n := math.Floor(place + 0.5); math.Abs(place-n) < 1e-7 {
		return n
	}
	return place
}

// bend is what the tape keeps of x: x itself up to half the ceiling, then a curve
// that comes near the ceiling. Its slope and its curvature are continuous.
func bend(x, ceiling float64) float64 {
	knee := float64(0.5 * ceiling)
	a := math.Abs(x)
	if a <= knee {
		return x
	}
	t := (a - knee) / knee
	y := knee + float64(knee*t)/math.Sqrt(1+float64(t*t))
	return math.Copysign(y, x)
}

// Resume goes on where from stands. The tape is copied, the rest lies in the
// struct itself.
func (s *sound) Resume(from module.Sound) {
	f, ok := from.(*sound)
	if !ok {
		return
	}
	tape := s.tape
	tape.Copy(&f.tape)
	*s = *f
	s.tape = tape
}
