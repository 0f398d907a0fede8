package recording

import (
	"lampblack/patch/dsp/resample"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

const (
	once = iota
	repeat
	loops
)

// sound is a recording being played. Its place is a number of samples from the
// start of the file; it ends where the last sample has died away.
type sound struct {
	read        resample.Reader
	left, right []float64 // nil: there is no recording
	mono        bool
	place       float64
	playing     bool
	trigger     bool // whether the input was above 0.5 at the last sample
}

func newSound(s module.Setup) module.Sound {
	p := &sound{read: resample.New()}
	if s.Clip != nil && len(s.Clip.Channels) > 0 && len(s.Clip.Channels[0]) > 0 {
		p.left = s.Clip.Channels[0]
		p.right = s.Clip.Channels[len(s.Clip.Channels)-1]
		p.mono = len(s.Clip.Channels) == 1
	}
	return p
}

// Block plays on.
func (s *sound) Block(b *module.Block) {
	left, right, trigger := b.Out[0][:b.N], b.Out[1][:b.N], b.In[0][:b.N]
	if s.left == nil {
		clear(left)
		clear(right)
		return
	}
	speed, start := b.Controls[0].V[:b.N], b.Controls[1].V[:b.N]
	loop, level := b.Controls[2].V[:b.N], b.Controls[3].V[:b.N]
	for i := range left {
		up := trigger[i] > 0.5
		if up && !s.trigger {
			s.place, s.playing = s.start(start[i]), true
		}
		s.trigger = up
		left[i], right[i] = 0, 0
		if !s.playing || !s.goOn(control.Number(loop[i], loops-1), speed[i], start[i]) {
			continue
		}
		g := control.Gain(level[i])
		left[i] = float64(s.read.At(s.left, s.place, speed[i]) * g)
		right[i] = left[i]
		if !s.mono {
			right[i] = float64(s.read.At(s.right, s.place, speed[i]) * g)
		}
		s.place += speed[i]
	}
}

// start is the whole sample at a share of the recording, so that a recording at
// speed 1 comes out sample by sample.
func (s *sound) start(share float64) float64 {
	return float64(int(share * float64(len(s.left))))
}

// goOn deals with the end: a repeat goes back to start, once ends when the
// interpolation has left the last sample behind. It says whether to play.
func (s *sound) goOn(loop int, speed, start float64) bool {
	n := float64(len(s.left))
	if s.place < n {
		return true
	}
	if loop == repeat {
		if from := s.start(start); from < n {
			// The overshoot is kept, so the period is exact at any speed.
			length := n - from
			s.place -= length
			for s.place >= n {
				s.place -= length
			}
			return true
		}
	}
	s.playing = s.place < n+float64(resample.Half*max(speed, 1))
	return s.playing
}
