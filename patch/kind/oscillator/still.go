package oscillator

import (
	"lampblack/patch/dsp/lanes"
	"lampblack/patch/dsp/step"
	"lampblack/patch/module"
)

// This file runs a cycle that nothing moves, to the same bits as one that something
// might: its steps are all the same, so that its corners need not be looked for.

// ticks are the steps of a place that pass from one of its cycles to another.
type ticks struct {
	n    int   // of the step; 0 is the first
	rest int64 // how far the next cycle is when it begins, 1 to one step
	step int64
	many int64 // whole steps in a cycle
}

// newTicks begins with a place, whose steps are not 0, for n steps.
func newTicks(place, step int64, n int) ticks {
	t := ticks{step: step, rest: cycle - place&(cycle-1)}
	if step < 0 { // on the way down a cycle begins right below its lower end
		t.step, t.rest = -step, place&(cycle-1)+1
	}
	if uint64(t.rest) > uint64(t.step)*uint64(n) {
		return ticks{n: n}
	}
	t.n = int(uint64(t.rest-1) / uint64(t.step))
	t.rest -= int64(t.n) * t.step
	t.many = int64(cycle / uint64(t.step))
	return t
}

// next returns the next of them. (It is no pointer's method, so that all of it
// stays in registers: kept in memory it takes four times as long.)
func (t ticks) next() ticks {
	rest := t.rest + (cycle - t.many*t.step)
	one := (t.step - rest) >> 63 // -1 where that is one step too few; a branch would be guessed wrong
	t.n += int(t.many - one)
	t.rest = rest - t.step&one
	return t
}

// beyond is how far the cycle passed lies from where the step begins.
func beyond(rest int64, down bool) float64 {
	if down {
		return cycles(1 - rest)
	}
	return cycles(rest)
}

// still says whether nothing moves the cycle, and has not for as long as it is
// remembered.
func (s *sound) still(m *moves) bool {
	if !m.still || s.lean != 0 || s.calm < past {
		return false
	}
	d := s.own[past-1]
	return d == s.cycles(m.frequency[0]+m.shift[0]) && d != 0 && (s.shape != pulse || m.width[0] == s.width)
}

// runStill makes the next samples of a shape that nothing moves.
func (s *sound) runStill(out []float64, at int) {
	n := len(out)
	d := s.own[past-1]
	dt, down := fixed(d), d < 0
	s.feeds = false
	for t := newTicks(s.phase, dt, n); t.n < n; t = t.next() {
		s.starts.tell(at+t.n, within(beyond(t.rest, down)/d))
	}
	if s.shape == sine {
		var turns [module.MaxBlock]uint64
		p := s.phase
		for i := range out {
			p += dt
			turns[i] = turn(p)
		}
		s.phase = p
		lanes.Tones(out, turns[:n])
		return
	}
	s.mendStill(n, d, dt)
	s.drawStill(s.line.Shape(n), dt)
	s.mendListed()
	s.line.Take(out)
	copy(s.places[:past], s.places[n:])
}

// drawStill goes on by the same steps and writes the plain shape.
func (s *sound) drawStill(y []float64, dt int64) {
	p := s.phase
	places := s.places[past:][:len(y)]
	switch s.shape {
	case triangle:
		for i := range places {
			p += dt
			places[i], y[i] = p, triangleAt(p)
		}
	case saw:
		for i := range places {
			p += dt
			places[i], y[i] = p, sawAt(p)
		}
	case pulse:
		width := s.widths[past-1]
		for i := range places {
			p += dt
			places[i], y[i] = p, pulseAt(p, width)
		}
	}
	s.phase = p
}

// mendStill lists the corners of the steps that are due.
func (s *sound) mendStill(n int, d float64, dt int64) {
	p := s.places[past-along]
	way, down := 2.0, d < 0
	if down {
		way = -2
	}
	k := 0
	switch s.shape {
	case saw:
		for t := newTicks(p-half, dt, n); t.n < n; t = t.next() {
			s.corners[k&63] = step.Corner{At: t.n - (along - 1), Late: 1 - within(beyond(t.rest, down)/d), Height: -way}
			k++
		}
	case triangle:
		place := 2*p - half
		t := newTicks(place, 2*dt, n)
		count := float64((place + int64(t.n)*2*dt) >> digits & 1)
		if !down {
			count = 1 - count // of the corner ahead
		}
		bend := float64(float64((float64(8*count)-4)*way) * d)
		for ; t.n < n; t = t.next() {
			s.corners[k&63] = step.Corner{At: t.n - (along - 1), Order: 1, Late: 1 - within(float64(0.5*beyond(t.rest, down))/d), Height: bend}
			k++
			bend = -bend
		}
	case pulse:
		up, fall := newTicks(p, dt, n), newTicks(p-s.widths[past-1], dt, n)
		for up.n < n || fall.n < n {
			c := &s.corners[k&63]
			k++
			c.Order = 0
			if up.n <= fall.n {
				c.At, c.Late, c.Height = up.n-(along-1), 1-within(beyond(up.rest, down)/d), way
				up = up.next()
			} else {
				c.At, c.Late, c.Height = fall.n-(along-1), 1-within(beyond(fall.rest, down)/d), -way
				fall = fall.next()
			}
		}
	}
	s.listed = k
}
