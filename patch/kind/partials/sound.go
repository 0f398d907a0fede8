package partials

import (
	"lampblack/patch/dsp/lanes"
	"lampblack/patch/module"
)

// What lies between these parts of the sample rate fades; above, it is not heard.
const (
	full = 0.46
	gone = 0.49
)

// sound is a bank of sines. Phases are 64-bit fractions of a cycle: a sum of
// steps never loses a bit, so nothing drifts.
type sound struct {
	inverse float64 // 1 / sample rate
	table   table
	shape   shape
	phases  [Most]uint64

	// Of one partial at every sample of a block, or of every partial at one sample.
	at    [max(Most, module.MaxBlock)]uint64
	tones [max(Most, module.MaxBlock)]float64
}

func newSound(s module.Setup) module.Sound {
	rows := s.Rows
	if rows == nil {
		rows = words.Table.Start
	}
	return &sound{inverse: 1 / s.Rate, table: read(rows)}
}

// Resume goes on where from stands. The rows may be others: what is kept is where
// every partial is in its cycle.
func (s *sound) Resume(from module.Sound) {
	if f, ok := from.(*sound); ok {
		s.phases = f.phases
	}
}

// Block adds the partials, for as many samples at once as keep their shape.
func (s *sound) Block(b *module.Block) {
	for from := 0; from < b.N; {
		s.shape.follow(&s.table, at(b.Controls, from))
		to := from + 1
		if still(b.Controls) {
			to = b.N
		}
		for to < b.N && at(b.Controls, to) == s.shape.settings {
			to++
		}
		s.run(b, from, to)
		from = to
	}
}

// run fills samples from to to, which have the same shape.
func (s *sound) run(b *module.Block, from, to int) {
	out, odd, even := b.Out[0][from:to], b.Out[1][from:to], b.Out[2][from:to]
	if len(out) == 1 {
		odd[0], even[0] = s.one(float64(b.Controls[0].V[from] * s.inverse))
		out[0] = odd[0] + even[0]
		return
	}
	clear(odd)
	clear(even)
	var steps [module.MaxBlock]float64
	step := steps[:to-from]
	highest := 0.0
	for i, f := range b.Controls[0].V[from:to] {
		step[i] = float64(f * s.inverse)
		highest = max(highest, step[i])
	}
	steady := b.Controls[0].Steady || same(step)
	for k := range s.table.n {
		if k&1 == 0 {
			s.add(odd, step, steady, highest, k)
		} else {
			s.add(even, step, steady, highest, k)
		}
	}
	for i := range out {
		out[i] = odd[i] + even[i]
	}
}

// add adds partial k to sum.
func (s *sound) add(sum, step []float64, steady bool, highest float64, k int) {
	ratio, level := s.shape.ratios[k], s.shape.levels[k]
	phases := s.at[:len(sum)]
	phase := s.phases[k]
	if steady {
		d := turn(float64(step[0] * ratio))
		for i := range phases {
			phases[i] = phase
			phase += d
		}
	} else {
		for i, v := range step[:len(phases)] {
			phases[i] = phase
			phase += turn(float64(v * ratio))
		}
	}
	s.phases[k] = phase
	if level == 0 {
		return
	}
	tones := s.tones[:len(sum)]
	lanes.Tones(tones, phases)
	if float64(highest*ratio) <= full { // nothing fades
		lanes.AddScaled(sum, tones, level)
		return
	}
	for i, v := range step[:len(sum)] {
		sum[i] += float64(float64(level*audible(float64(v*ratio))) * tones[i])
	}
}

// one is run for a single sample, as it comes while the shape moves.
func (s *sound) one(step float64) (odd, even float64) {
	n := s.table.whole()
	tones, phases := s.tones[:n], s.phases[:n]
	ratios, levels := s.shape.ratios[:n], s.shape.levels[:n]
	lanes.Tones(tones, phases)
	for k := 0; k+1 < n; k += 2 {
		v, w := float64(step*ratios[k]), float64(step*ratios[k+1])
		phases[k] += turn(v)
		phases[k+1] += turn(w)
		odd += float64(float64(levels[k]*audible(v)) * tones[k])
		even += float64(float64(levels[k+1]*audible(w)) * tones[k+1])
	}
	return odd, even
}

// still says whether all controls that make the shape stand still.
func still(c []module.Control) bool {
	for i := range c[1:] {
		if !c[1+i].Steady {
			return false
		}
	}
	return true
}

func same(x []float64) bool {
	for _, v := range x {
		if v != x[0] {
			return false
		}
	}
	return true
}

// audible is the gain of a partial at that part of the sample rate.
func audible(v float64) float64 {
	if v <= full {
		return 1
	}
	return min(max(float64((gone-v)*(1/(gone-full))), 0), 1)
}

// turn is a step of v cycles; a partial that is not heard may stay behind.
func turn(v float64) uint64 {
	if v > gone { // the built-in min would take longer than all the rest
		v = gone
	}
	return uint64(int64(float64(v * (1 << 64))))
}
