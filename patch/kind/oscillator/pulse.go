package oscillator

import "lampblack/patch/dsp/wave"

// pulse makes a pulse whose width may move with every sample. Its edges lie
// where the phase passes the width, and where a new cycle starts.
func (s *sound) pulse(out, frequency, width []float64, at int) {
	p, d0, d1 := s.phase, s.d0, s.d1
	w := s.widths // before, at and behind the two samples; the newest is needed for its bend
	for i := range out {
		d2 := s.cycles(frequency[i])
		next := width[i]
		p1 := p + d1
		if wraps := p1 >= 1; wraps || p < w[1] != (p1 < w[2]) {
			phase := path{p, d1, d1 - d0, d2 - d1}
			over := path{ // how far the phase is past the width
				p - w[1], d1 - (w[2] - w[1]),
				phase.bend0 - (w[2] - w[1] - (w[1] - w[0])),
				phase.bend1 - (next - w[2] - (w[2] - w[1])),
			}
			if wraps {
				s.wrap(&phase, &over, at+i)
				p1--
			} else {
				s.edge(&over, 0, p < w[1])
			}
		}
		p, d0, d1 = p1, d1, d2
		w = [3]float64{w[1], w[2], next}
		out[i] = s.line.Put(wave.Pulse(p, w[1]))
	}
	s.phase, s.d0, s.d1, s.widths = p, d0, d1, w
}

// edge mends the edge where the phase has passed the width by x cycles: down,
// or up if the width has overtaken the phase.
func (s *sound) edge(over *path, x float64, down bool) {
	height := 2.0
	if down {
		height = -2
	}
	s.table.Jump(s.line.Window(), 1-over.reach(x), height)
}

// wrap mends the edges of a step in which a new cycle starts: up at its start,
// and, if they lie in the same step, down before and down behind.
func (s *sound) wrap(phase, over *path, at int) {
	if over.from < 0 {
		s.edge(over, 0, true)
	}
	t := phase.reach(1)
	s.table.Jump(s.line.Window(), 1-t, 2)
	s.starts.tell(at, t)
	if over.from+over.step >= 1 {
		s.edge(over, 1, true)
	}
}
