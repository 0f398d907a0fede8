package hold

import (
	"lampblack/patch/dsp/bound"
	"lampblack/patch/dsp/cycle"
	"lampblack/patch/dsp/gate"
	"lampblack/patch/dsp/hash"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

type sound struct {
	rate   float64 // samples a second
	key    uint64  // of the noise
	index  uint64  // of the next sample
	y      float64 // the value held
	random float64 // the random step held
	up     gate.Edge
	own    cycle.Counter
	beat   int64 // the own clock's present beat
	open   bool  // whether the own clock is up
}

func newSound(s module.Setup) module.Sound {
	return &sound{rate: s.Rate, key: hash.Key(s.Seed), beat: -1}
}

// Block takes samples where the clock says so.
func (s *sound) Block(b *module.Block) {
	out, random, trigger := b.Out[0][:b.N], b.Out[1][:b.N], b.Out[2][:b.N]
	mode := b.Controls[1].V[:b.N]
	for i := range out {
		beat := s.clock(b, i)
		trigger[i] = 0
		if beat {
			trigger[i] = 1
			s.random = hash.Signed(s.key, s.index)
		}
		if beat || s.open && control.Number(mode[i], 1) == 1 {
			s.take(b, i)
		}
		s.index++
		out[i], random[i] = s.y, s.random
	}
}

// clock moves the clock to sample i and reports whether it beats there.
func (s *sound) clock(b *module.Block, i int) bool {
	if b.Joined[1] {
		beat := s.up.Rises(b.In[1][i])
		s.open = bool(s.up)
		return beat
	}
	number, part := s.own.Next(min(b.Controls[0].V[i]/s.rate, 1))
	beat := number != s.beat
	s.beat, s.open = number, part < b.Controls[2].V[i]
	return beat
}

// take samples what comes in.
func (s *sound) take(b *module.Block, i int) {
	if b.Joined[0] {
		s.y = bound.In(b.In[0][i], &b.Clamped)
		return
	}
	s.y = hash.Signed(s.key, s.index)
}
