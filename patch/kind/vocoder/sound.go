package vocoder

import (
	"lampblack/patch/dsp/bound"
	"lampblack/patch/dsp/hash"
	"lampblack/patch/dsp/rc"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

const (
	edgeMost = 0.49 // of the sample rate: the highest edge
	grid     = 16   // samples from one tuning to the next while the bands move
	sweep    = 64   // samples after which what has vanished is forgotten; a multiple of grid
)

type sound struct {
	rate      float64
	inverse   float64 // 1 / rate
	key       uint64  // of the noise
	index     uint64  // of the next sample
	tuned     tuning
	analysers [most]analyser
	splits    [most - 1]split
	hiss      consonants
	attack    rc.Step
	release   rc.Step

	voice, carrier, sum [module.MaxBlock]float64
	env, step, keep     [module.MaxBlock]float64
	treble              [module.MaxBlock]float64
}

func newSound(s module.Setup) module.Sound {
	return &sound{rate: s.Rate, inverse: 1 / s.Rate, key: hash.Key(s.Seed), hiss: newConsonants(s.Rate)}
}

// Block runs from one place to the next where the bands may change: at any
// sample in number, on a grid of samples in place.
func (s *sound) Block(b *module.Block) {
	for i := 0; i < b.N; {
		at := s.index % sweep
		if at == 0 {
			s.flush()
		}
		want := wanted(b.Controls, i)
		if want.count != s.tuned.count || want.spacing != s.tuned.spacing || at%grid == 0 && want != s.tuned {
			s.tune(want)
		}
		n := min(b.N-i, int(sweep-at))
		if want != s.tuned || moves(b.Controls) {
			n = min(n, int(grid-at%grid))
			n = s.alike(b.Controls, i, n)
		}
		s.run(b, i, i+n)
		i += n
		s.index += uint64(n)
	}
}

// moves reports whether the bands may change within the block.
func moves(c []module.Control) bool {
	for _, which := range [...]int{bands, spacing, lowest, highest, width, shift} {
		if !c[which].Steady {
			return true
		}
	}
	return false
}

// alike returns for how many samples from i on, at most n, there are as many
// bands as tuned.
func (s *sound) alike(c []module.Control, i, n int) int {
	if c[bands].Steady && c[spacing].Steady {
		return n
	}
	for k := range n {
		if w := wanted(c, i+k); w.count != s.tuned.count || w.spacing != s.tuned.spacing {
			return k
		}
	}
	return n
}

// run computes samples i to j.
func (s *sound) run(b *module.Block, i, j int) {
	n := j - i
	s.listen(b, i, j)
	voice, carrier, env, sum := s.voice[:n], s.carrier[:n], s.env[:n], s.sum[:n]
	clear(sum)
	depths := b.Controls[depth].V[i:j]
	for k := range s.tuned.count {
		s.analysers[k].run(voice, env, s.step[:n], s.keep[:n])
		for m, d := range depths {
			env[m] = 1 + float64(d*(env[m]-1))
		}
		if k < s.tuned.count-1 {
			s.splits[k].run(carrier, sum, env)
			continue
		}
		for m, v := range carrier {
			sum[m] += float64(v * env[m])
		}
	}
	s.hiss.run(voice, s.treble[:n], b.Out[1][i:j])
	levels, hisses, out := b.Controls[level].V[i:j], b.Controls[sibilance].V[i:j], b.Out[0][i:j]
	for m, v := range sum {
		y := float64(v*control.Gain(levels[m])) + float64(s.treble[m]*control.Gain(hisses[m]))
		out[m] = bound.In(y, &b.Clamped)
	}
}

// listen takes in the voice and the carrier, and how fast levels may move.
func (s *sound) listen(b *module.Block, i, j int) {
	for k := i; k < j; k++ {
		m := k - i
		s.voice[m] = bound.In(b.In[0][k], &b.Clamped)
		if b.Joined[1] {
			s.carrier[m] = bound.In(b.In[1][k], &b.Clamped)
		} else {
			s.carrier[m] = hash.Signed(s.key, s.index+uint64(m))
		}
		if b.In[2][k] > 0.5 {
			s.step[m], s.keep[m] = 0, 1
			continue
		}
		s.step[m] = s.attack.Of(float64(b.Controls[attack].V[k] * s.rate))
		s.keep[m] = 1 - s.release.Of(float64(b.Controls[release].V[k]*s.rate))
	}
}

func (s *sound) flush() {
	for k := range s.analysers {
		s.analysers[k].flush()
	}
	for k := range s.splits {
		s.splits[k].flush()
	}
	s.hiss.flush()
}
