package noise

import (
	"lampblack/patch/dsp/hash"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

type sound struct {
	patchSeed uint64
	seed      int // the control's, for which key was made
	key       uint64
	index     uint64 // of the next sample
}

func newSound(s module.Setup) module.Sound {
	return &sound{patchSeed: s.Seed, seed: -1}
}

// Block draws the next samples.
func (s *sound) Block(b *module.Block) {
	out := b.Out[0][:b.N]
	for i := range out {
		s.choose(control.Number(b.Controls[1].V[i], 9999))
		out[i] = hash.Signed(s.key, s.index)
		s.index++
	}
}

func (s *sound) choose(seed int) {
	if seed != s.seed {
		s.seed = seed
		s.key = hash.Key(s.patchSeed, uint64(seed))
	}
}
