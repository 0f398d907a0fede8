package logic

import (
	"lampblack/patch/dsp/gate"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// The rules, in the order of the control's choices.
const (
	and = iota
	or
	xor
	not
	latch
	toggle
	divide
)

// mostCount is the largest number a divider counts to.
const mostCount = 64

type sound struct {
	a, b    gate.Edge
	up      bool // what latch and toggle remember
	passing bool // whether the gate of a that is up, or was last, is let through
	since   int  // gates of a since the one that passed last, itself counted; 0: none has
	out     bool
}

func newSound(module.Setup) module.Sound { return new(sound) }

// Block applies the rule sample by sample.
func (s *sound) Block(b *module.Block) {
	first, second := b.In[0][:b.N], b.In[1][:b.N]
	rule, count := b.Controls[0].V[:b.N], b.Controls[1].V[:b.N]
	out, inverse, trigger := b.Out[0][:b.N], b.Out[1][:b.N], b.Out[2][:b.N]
	for i := range out {
		rose, back := s.a.Rises(first[i]), s.b.Rises(second[i])
		r := control.Number(rule[i], divide)
		if rose || back {
			s.remember(r, rose, back, control.Number(count[i], mostCount))
		}
		was := s.out
		s.out = s.apply(r)
		out[i], inverse[i], trigger[i] = 0, 1, 0
		if s.out {
			out[i], inverse[i] = 1, 0
		}
		if s.out && !was {
			trigger[i] = 1
		}
	}
}

// remember takes note of a gate that has risen.
func (s *sound) remember(rule int, rose, back bool, count int) {
	switch {
	case back:
		s.up = false
	case rose && rule == toggle:
		s.up = !s.up
	case rose && rule == latch:
		s.up = true
	}
	if back {
		s.since = 0
	}
	if rose {
		s.passing = s.since == 0 || s.since >= count
		if s.passing {
			s.since = 0
		}
		s.since = min(s.since+1, mostCount)
	}
}

// apply is the rule.
func (s *sound) apply(rule int) bool {
	a, b := bool(s.a), bool(s.b)
	switch rule {
	case and:
		return a && b
	case or:
		return a || b
	case xor:
		return a != b
	case not:
		return !a
	case divide:
		return a && s.passing
	}
	return s.up
}
