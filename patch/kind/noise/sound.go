package noise

import (
	"lampblack/patch/dsp/hash"
	"lampblack/patch/dsp/pink"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

const (
	white = iota
	pinkNoise
	brown
	blue
	violet
	crackle
	colours
)

// seeds is how many seeds can be written. The streams of numbers that no seed
// control gives have the numbers behind them.
const seeds = 10000

const (
	// pinkDensity is the power of pink noise per Hz at 1 kHz: an rms of 0.2
	// between 20 Hz and 20 kHz, over ln(1000) and 1000 Hz.
	pinkDensity = 0.2 * 0.2 / 6.907755278982137 / 1000

	// brownDensity is that of brown noise: an rms of 0.2 over all frequencies,
	// where 1/(f^2 + leak^2) amounts to pi/2 / leak.
	brownDensity = 0.2 * 0.2 * leak / 1.5707963267948966 / (1000 * 1000)

	leak = 5 // Hz: brown noise is level below
)

// sound draws noise by the number of its samples. A filter runs only while its
// colour is heard.
type sound struct {
	patchSeed uint64
	seed      int // the control's, for which the keys were made
	key       uint64
	index     uint64 // of the next sample
	filters   [violet + 1]pink.Stream
	ticks     ticks
}

func newSound(s module.Setup) module.Sound {
	n := &sound{patchSeed: s.Seed, seed: -1, ticks: newTicks(s.Rate)}
	// Even values over +-1 have a power of 1/3, so 1 per Hz is a gain of 1.5 rate.
	unit := 1.5 * s.Rate
	half := s.Rate / 2
	before := hash.Key(s.Seed, seeds)
	plain := func(dst []float64, first uint64) { hash.Fill(dst, before, first) }
	different := func(dst []float64, first uint64) { difference(dst, before, first) }
	n.filters[pinkNoise] = pink.NewStream(pink.Design(s.Rate, pinkDensity*unit), plain)
	n.filters[brown] = pink.NewStream(pink.Brown(s.Rate, brownDensity*unit, leak), plain)
	// f and f^2, each from 0 to half the rate, amount to half^2/2 and half^3/3.
	n.filters[blue] = pink.NewStream(pink.Blue(s.Rate, float64(0.2*0.2*1000*2*unit)/float64(half*half)), different)
	n.filters[violet] = pink.NewStream(pink.Violet(s.Rate, float64(0.2*0.2*1e6*3*unit)/float64(half*half*half)), different)
	return n
}

// Seek makes the module stand where it would stand had it run from the first
// sample to number index with its controls, here colour, seed and density as
// they arrive at Block, held still: what follows is the same to the bit. (After
// a change of seed or colour on the way, the same holds from the second cell
// of pink.Stream on, some ten seconds later.) It takes up to a few milliseconds,
// so it is not for the sound thread.
func (s *sound) Seek(index uint64, controls []float64) {
	colour := control.Number(controls[0], colours-1)
	s.choose(control.Number(controls[1], seeds-1))
	s.index = index
	switch colour {
	case white:
	case crackle:
		s.index -= min(index, ringLength)
		s.ticks.clear()
		var before [ringLength]float64
		p := controls[2]
		s.ticks.run(before[:index-s.index], s.index, func(int) float64 { return p })
		s.index = index
	default:
		s.filters[colour].Seek(index, func(dst []float64, first uint64) { s.source(dst, colour, first) })
	}
}

// Block draws the next samples. Sample n depends on the seeds and n alone, and
// where a filter colours it, on the samples before.
func (s *sound) Block(b *module.Block) {
	out := b.Out[0][:b.N]
	s.choose(control.Number(b.Controls[1].V[0], seeds-1))
	colour := control.Number(b.Controls[0].V[0], colours-1)
	if colour == crackle {
		density := b.Controls[2].V
		s.ticks.run(out, s.index, func(i int) float64 { return density[i] })
	} else {
		s.source(out, colour, s.index)
		if colour != white {
			s.filters[colour].Run(out, s.index)
		}
	}
	s.index += uint64(len(out))
}

func (s *sound) choose(seed int) {
	if seed != s.seed {
		s.seed = seed
		s.key = hash.Key(s.patchSeed, uint64(seed))
		s.ticks.key = hash.Key(s.patchSeed, uint64(seed), seeds)
	}
}

// source draws what the filter of a colour gets.
func (s *sound) source(dst []float64, colour int, first uint64) {
	if colour == blue || colour == violet {
		difference(dst, s.key, first)
	} else {
		hash.Fill(dst, s.key, first)
	}
}

// difference draws the difference of each sample from the one before.
func difference(dst []float64, key, first uint64) {
	before := hash.Signed(key, first-1)
	for i := range dst {
		x := hash.Signed(key, first+uint64(i))
		dst[i] = x - before
		before = x
	}
}
