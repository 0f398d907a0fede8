package noise

import (
	"lampblack/patch/dsp/hash"
	"lampblack/patch/dsp/pink"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

const (
	colourWhite = iota
	colourPink
	colours
)

// seeds is how many seeds can be written.
const seeds = 10000

// pinkDensity is the power of pink noise per Hz at 1 kHz: an rms of 0.2 between
// 20 Hz and 20 kHz, over ln(1000) and 1000 Hz.
const pinkDensity = 0.2 * 0.2 / 6.907755278982137 / 1000

// settling is how long, in seconds, the pink filter runs before it is heard:
// ten time constants of its slowest pole (6 Hz).
const settling = 0.27

type sound struct {
	patchSeed uint64
	seed      int // the control's, for which key was made
	key       uint64
	index     uint64 // of the next sample
	pink      pink.Filter
}

func newSound(s module.Setup) module.Sound {
	// White noise of even distribution over +-1 has 1/3 of power in rate/2.
	n := &sound{patchSeed: s.Seed, seed: -1, pink: pink.Design(s.Rate, pinkDensity*1.5*s.Rate)}
	before := hash.Key(s.Seed, seeds) // a stream that no seed control gives
	for i := range uint64(settling * s.Rate) {
		n.pink.Next(hash.Signed(before, i))
	}
	return n
}

// Block draws the next samples. Sample n depends on the seeds and n alone;
// pink noise also on the white samples before it.
func (s *sound) Block(b *module.Block) {
	colour, seed := &b.Controls[0], &b.Controls[1]
	for from := 0; from < b.N; {
		to := from + 1
		if colour.Steady && seed.Steady {
			to = b.N
		}
		s.choose(control.Number(seed.V[from], seeds-1))
		s.run(b.Out[0][from:to], control.Number(colour.V[from], colours-1))
		from = to
	}
}

func (s *sound) choose(seed int) {
	if seed != s.seed {
		s.seed = seed
		s.key = hash.Key(s.patchSeed, uint64(seed))
	}
}

func (s *sound) run(out []float64, colour int) {
	key, index := s.key, s.index
	for i := range out {
		out[i] = hash.Signed(key, index+uint64(i))
	}
	s.index = index + uint64(len(out))
	if colour == colourPink {
		for i, x := range out {
			out[i] = s.pink.Next(x)
		}
	}
}
