package oscillator

import "lampblack/patch/dsp/wave"

// pulse makes a pulse whose width may move with every sample. Between two
// samples phase and width are taken to move along straight lines, so the edge
// lies where these cross.
func (s *sound) pulse(out, frequency, width []float64) {
	frequency, width = frequency[:len(out)], width[:len(out)]
	p, w := s.phase, s.width
	for i := range out {
		dt := s.cycles(frequency[i])
		p1, w1 := p+dt, width[i]
		switch {
		case p1 >= 1:
			s.wrap(p, dt, w, w1)
			p1--
		case p < w != (p1 < w1):
			s.edge(0, 1, p-w, p1-w1)
		}
		p, w = p1, w1
		out[i] = s.line.Put(wave.Pulse(p, w))
	}
	s.phase, s.width = p, w
}

// edge mends the edge on the way from time a to b (0 to 1 since the last
// sample), where phase minus width goes from g to h and changes its sign.
func (s *sound) edge(a, b, g, h float64) {
	at := a + float64((b-a)*g)/(g-h)
	height := -2.0
	if g >= 0 {
		height = 2 // the width has overtaken the phase
	}
	s.table.Jump(s.line.Window(), min(max(1-at, 0), 1), height)
}

// wrap mends the edges of a step in which a new cycle starts: up at its start,
// and, if they lie in the same step, down before and down after.
func (s *sound) wrap(p, dt, w, w1 float64) {
	at := min((1-p)/dt, 1)
	middle := w + float64(at*(w1-w))
	if p < w {
		s.edge(0, at, p-w, 1-middle)
	}
	s.table.Jump(s.line.Window(), 1-at, 2)
	if end := p + dt - 1 - w1; end >= 0 {
		s.edge(at, 1, -middle, end)
	}
}
