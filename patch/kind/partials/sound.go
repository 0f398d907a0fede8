package partials

import (
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
	step = step[:len(sum)]
	phase := s.phases[k]
	quiet := float64(highest*ratio) <= full // nothing fades
	switch d := turn(float64(step[0] * ratio)); {
	case level == 0 && steady:
		phase += d * uint64(len(sum))
	case level == 0:
		for _, v := range step {
			phase += turn(float64(v * ratio))
		}
	case steady && quiet:
		for i := range sum {
			sum[i] += float64(level * sine(phase))
			phase += d
		}
	case quiet:
		for i, v := range step {
			sum[i] += float64(level * sine(phase))
			phase += turn(float64(v * ratio))
		}
	default:
		for i, v := range step {
			v = float64(v * ratio)
			sum[i] += float64(float64(level*audible(v)) * sine(phase))
			phase += turn(v)
		}
	}
	s.phases[k] = phase
}

// one is run for a single sample, as it comes while the shape moves.
func (s *sound) one(step float64) (odd, even float64) {
	var sums [2]float64
	for k := range s.table.n {
		v, phase := float64(step*s.shape.ratios[k]), s.phases[k]
		s.phases[k] = phase + turn(v)
		level := s.shape.levels[k]
		if level != 0 {
			sums[k&1] += float64(float64(level*audible(v)) * sine(phase))
		}
	}
	return sums[0], sums[1]
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

// sine is the sine of a phase, within 4e-11 (-208 dB). The phase is taken as half
// a cycle either way, x = -1 to 1; the zeros of sin(pi x) are divided out, and
// the rest interpolated at Chebyshev nodes, with 60 digits. It is summed in
// pairs of terms, which wait for each other less.
func sine(phase uint64) float64 {
	x := float64(float64(int64(phase)) * (1.0 / (1 << 63)))
	u := float64(x * x)
	w := float64(u * u)
	y := 0.0069229561812982618315 - float64(0.00044173220490975528*u) + float64(0.0000185981512000999393*w)
	y = 0.52404377954458078314 - float64(0.075219810193027619564*u) + float64(y*w)
	y = 3.1415926535045728458901 - float64(2.026120118106058400096*u) + float64(y*w)
	return float64(float64(x*(1-u)) * y)
}
