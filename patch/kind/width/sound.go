package width

import (
	"lampblack/patch/dsp/line"
	"lampblack/patch/module"
)

type sound struct {
	inverse float64 // 1 / sample rate
	low     line.Cut
}

func newSound(s module.Setup) module.Sound { return &sound{inverse: 1 / s.Rate} }

// Block weighs the side. The side's own level says by how much it differs from
// what it was; adding that, instead of taking both sides apart and together,
// leaves them untouched to the bit where it is 0.
func (s *sound) Block(b *module.Block) {
	l, r := b.In[0][:b.N], b.In[1][:b.N]
	width, below := b.Controls[0].V[:b.N], b.Controls[1].V[:b.N]
	left, right, middle, side := b.Out[0][:b.N], b.Out[1][:b.N], b.Out[2][:b.N], b.Out[3][:b.N]
	for i := range l {
		m, was := float64(0.5*(l[i]+r[i])), float64(0.5*(l[i]-r[i]))
		if !(was >= -1e6 && was <= 1e6) { // a filter would never forget it
			was, b.Clamped = 0, true
		}
		now := float64(width[i] * s.low.LowCut(was, below[i], s.inverse))
		middle[i], side[i] = m, now
		if now == was {
			left[i], right[i] = l[i], r[i]
			continue
		}
		left[i], right[i] = m+now, m-now
	}
}

// Resume goes on where from stands: all state lies in the struct itself.
func (s *sound) Resume(from module.Sound) {
	if f, ok := from.(*sound); ok {
		*s = *f
	}
}
