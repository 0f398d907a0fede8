package oscillator

import (
	"math"

	"lampblack/patch/dsp/lanes"
)

// draw writes the plain shape of the newest samples.
func (s *sound) draw(y []float64) {
	places := s.places[past : past+len(y)]
	switch s.shape {
	case triangle:
		for i, p := range places {
			y[i] = triangleAt(p)
		}
	case saw:
		for i, p := range places {
			y[i] = sawAt(p)
		}
	case pulse:
		widths := s.widths[past : past+len(y)]
		for i, p := range places {
			y[i] = pulseAt(p, widths[i])
		}
	case ahead:
		for i, p := range places {
			y[i] = lanes.Tone(turn(p))
		}
	}
}

// mendMoved mends the corners of the steps that are due.
func (s *sound) mendMoved(n int) {
	due := 0
	if s.shape != ahead {
		due = s.passing(n)
		if !s.oneWay(n) {
			due = s.turning(n, due)
		}
	}
	if s.joined {
		due = s.restarting(n, due)
	}
	for _, k := range s.events[:due] {
		if s.near(int(k)) && !s.quick(int(k)) {
			s.mend(int(k))
		}
	}
}

// restarting adds the steps in which the cycle is started again to the first so many
// listed, and returns how many it makes.
func (s *sound) restarting(n, listed int) int {
	for k := past - along; k < past-along+n; k++ {
		if s.resets[k] == 0 {
			continue
		}
		i := listed
		for i > 0 && int(s.events[i-1]) >= k {
			i--
		}
		if i == listed || int(s.events[i]) != k {
			copy(s.events[i+1:], s.events[i:listed])
			s.events[i] = uint8(k)
			listed++
		}
	}
	return listed
}

// oneWay says whether all steps known run one way, and none is twice as long as
// another: then none turns back.
func (s *sound) oneWay(n int) bool {
	r := lanes.Reach{Least: s.steps[0], Most: s.steps[0]}
	lanes.Clamp(s.steps[:past+n], -math.MaxFloat64, math.MaxFloat64, &r)
	return r.Least > 0 && r.Least > float64(0.5*r.Most) || r.Most < 0 && r.Most < float64(0.5*r.Least)
}

// passing lists the steps, of those due, that pass a corner, and returns how many.
func (s *sound) passing(n int) int {
	due := s.places[past-along : past-along+n+1]
	found := 0
	p := due[0]
	switch s.shape {
	case saw:
		p -= half
		for i, next := range due[1:] {
			next -= half
			s.events[found&63] = uint8(past - along + i)
			found += differ(p, next)
			p = next
		}
	case triangle:
		p = 2*p - half
		for i, next := range due[1:] {
			next = 2*next - half
			s.events[found&63] = uint8(past - along + i)
			found += differ(p, next)
			p = next
		}
	case pulse:
		widths := s.widths[past-along : past-along+n+1]
		q := p - widths[0]
		for i, next := range due[1:] {
			over := next - widths[i+1]
			s.events[found&63] = uint8(past - along + i)
			found += differ(p, next) | differ(q, over)
			p, q = next, over
		}
	}
	return found
}

// turning adds the steps that may turn back to the first so many listed, and returns
// how many it makes. Both neighbours of any other run its way, and are not much
// shorter.
func (s *sound) turning(n, listed int) int {
	passing := s.events
	passing[listed&63] |= one(listed < 64) * 128 // the end
	steps := s.steps[past-along-1 : past-along+n+1]
	before := float64(steps[0] * steps[1])
	at, found := 0, 0
	for i := range n {
		d := steps[i+1]
		behind := float64(d * steps[i+2])
		least := float64(0.25 * float64(d*d))
		k := uint8(past - along + i)
		passes := one(passing[at&63] == k)
		at += int(passes)
		s.events[found&63] = k
		found += int(passes | (one(before > least)&one(behind > least) ^ 1))
		before = behind
	}
	return found
}

func one(b bool) uint8 {
	if b {
		return 1
	}
	return 0
}
