package recording

import (
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

type sound struct {
	clip    *module.Clip
	pos     float64
	playing bool
	trigger bool
}

func newSound(s module.Setup) module.Sound { return &sound{clip: s.Clip} }

// Block plays on.
func (s *sound) Block(b *module.Block) {
	clear(b.Out[0][:b.N])
	clear(b.Out[1][:b.N])
	if s.clip == nil || len(s.clip.Channels) == 0 {
		return
	}
	left := s.clip.Channels[0]
	right := s.clip.Channels[len(s.clip.Channels)-1]
	for i := range b.N {
		up := b.In[0][i] > 0.5
		start := float64(int(b.Controls[1].V[i] * float64(len(left))))
		if up && !s.trigger {
			s.pos, s.playing = start, true
		}
		s.trigger = up
		if !s.playing {
			continue
		}
		if s.pos >= float64(len(left)) {
			if control.Number(b.Controls[2].V[i], 1) == 0 || start >= float64(len(left)) {
				s.playing = false
				continue
			}
			s.pos = start
		}
		g := control.Gain(b.Controls[3].V[i])
		b.Out[0][i] = left[int(s.pos)] * g
		b.Out[1][i] = right[int(s.pos)] * g
		s.pos += b.Controls[0].V[i]
	}
}
