package oscillator

import (
	"math"
	"math/bits"

	"lampblack/patch/dsp/lanes"
	"lampblack/patch/dsp/step"
)

// solver finds when many curves, all of them tame and none of them straight, have
// gone so far: four at once where the processor can, to the same bits.
type solver struct {
	steps                        [reaches][solved]float64
	far                          [solved]float64
	time                         [solved]float64 // from here on: the answer
	slope, second, third, fourth [solved]float64 // derivatives there, if asked for

	_ [solved / 4][18][4]float64 // coefficients, of four at once
}

// solved is how many corners are solved at once, at most.
const solved = 32

// coefficients are those of curves, in every lane: of every power the four of evens,
// then of odds.
var coefficients = func() (c [10][4][4]float64) {
	for k := range 5 {
		for i := range 4 {
			for lane := range 4 {
				c[k][i][lane], c[5+k][i][lane] = evens[k][i], odds[k][i]
			}
		}
	}
	return c
}()

// one finds the answer of curve i.
func (s *solver) one(i int, derivatives bool) {
	var steps [reaches]float64
	for k := range steps {
		steps[k] = s.steps[k][i]
	}
	var q curve
	q.through(&steps)
	far := s.far[i]
	// When the parabola through the nearest would be there.
	bend := float64(((steps[5] - steps[4]) + (steps[4] - steps[3])) * 0.25)
	slope := q.step - bend
	root := math.Sqrt(max(float64(slope*slope)+float64(float64(4*bend)*far), 0))
	t := float64(2*far) / (slope + math.Copysign(root, q.step))
	u := t - 0.5
	for range 3 { // Newton's steps
		y, slope := q.near(u)
		u -= (y - far) / slope
	}
	t = within(u + 0.5)
	s.time[i] = t
	if derivatives {
		u = t - 0.5
		_, s.slope[i] = q.near(u)
		s.second[i], s.third[i], s.fourth[i] = q.derivatives(u)
	}
}

// quick puts the corners of step k of those kept on the list, if each kind is passed
// no more than once, on a tame way. It says whether it did.
func (s *sound) quick(k int) bool {
	steps := (*[reaches]float64)(s.steps[k-along:])
	far := math.Abs(steps[along])
	bent := s.bent[k]
	if !s.measured {
		bent = bends(steps)
	}
	if s.resets[k] != 0 || far > fastest || !(bent < float64(mostBent*far)) {
		return false
	}
	from, to := s.places[k], s.places[k+1]
	if s.shape == pulse {
		return s.quickPulse(k, steps, bent == 0, from, to)
	}
	c := fall
	if s.shape == triangle {
		c = peak
	}
	from = s.counted(from, 0)
	n := more(s.counted(to, 0), from)
	if n == 1 || n == -1 {
		s.once(k, steps, bent == 0, from, n, c)
	}
	return n >= -1 && n <= 1
}

func (s *sound) quickPulse(k int, steps *[reaches]float64, straight bool, from, to int64) bool {
	width, next := s.widths[k], s.widths[k+1]
	up, down := more(to, from), more(to-next, from-width)
	if up < -1 || up > 1 || down < -1 || down > 1 {
		return false
	}
	over, overStraight := steps, straight
	if down != 0 && s.overtakes {
		over = (*[reaches]float64)(s.overs[k-along:])
		bent := s.overBent[k]
		if !s.measured {
			bent = bends(over)
		}
		if !(bent < float64(mostBent*math.Abs(over[along]))) {
			return false
		}
		overStraight = bent == 0
	}
	if up != 0 {
		s.once(k, steps, straight, from, up, leap)
	}
	if down != 0 {
		s.once(k, over, overStraight, from-width, down, fall)
	}
	return true
}

// measure finds what quick needs of many steps at once, for the steps marked.
func (s *sound) measure(n int, due uint64) {
	const from = past - along
	s.measured = fours && bits.OnesCount64(due) > 6
	if s.measured {
		bendsMany(&s.bent[from], &s.steps[0], n)
	}
	s.overtakes = s.shape == pulse && due != 0 && !lanes.Within(s.spans[:past+n], 0)
	if !s.overtakes {
		return
	}
	overs, spans := s.overs[:past+n], s.spans[:past+n]
	for i, d := range s.steps[:past+n] {
		overs[i] = d - spans[i]
	}
	if s.measured {
		bendsMany(&s.overBent[from], &s.overs[0], n)
	}
}

// slight is a third derivative, in cycles, below which it and the fourth need no
// mending: they would be 150 dB down.
const slight = 2e-7

// once puts one corner on the list, passed upwards (1) or downwards (-1) from a
// counted place. One on a curve is solved later, with others.
func (s *sound) once(k int, steps *[reaches]float64, straight bool, place, n int64, c corner) {
	count, way := place>>digits, float64(n)
	if n > 0 {
		count++
	}
	far := cycles(count<<digits - place)
	height, order, many := 2*way, 0, 1
	switch c {
	case fall:
		height = -height
	case peak:
		far, height, order = float64(0.5*far), float64((float64(16*float64(count&1))-8)*way), 1
	}
	at := k - past + 1
	if straight {
		if c == peak {
			height = float64(height * steps[along])
		}
		s.put(at, order, within(far/steps[along]), height)
		return
	}
	if c == peak {
		b2, b3, b4, b5 := steps[3]-steps[2], steps[4]-steps[3], steps[5]-steps[4], steps[6]-steps[5]
		if many = 4; math.Abs(b3-b2)+math.Abs(b4-b3)+math.Abs(b5-b4) < slight {
			many = 2
		}
	}
	if s.asked == solved || s.listed+many >= len(s.corners) {
		s.mendListed()
	}
	i := s.asked
	s.asked++
	for j, x := range steps {
		s.solver.steps[j][i] = x
	}
	s.solver.far[i] = far
	s.first[i], s.many[i] = uint8(s.listed), uint8(many)
	for j := range many {
		s.corners[s.listed] = step.Corner{At: at, Order: order + j, Height: height}
		s.listed++
	}
}

// solve solves the corners that were put off.
func (s *sound) solve() {
	n := s.asked
	if n == 0 {
		return
	}
	s.asked = 0
	q := &s.solver
	if fours {
		solveFours(q, &coefficients, n, s.shape == triangle)
	} else {
		for i := range n {
			q.one(i, s.shape == triangle)
		}
	}
	for i, first := range s.first[:n] {
		c := s.corners[first:]
		late := 1 - q.time[i]
		c[0].Late = late
		if s.shape != triangle {
			continue
		}
		c[1].Late = late
		c[0].Height, c[1].Height = float64(c[0].Height*q.slope[i]), float64(c[1].Height*q.second[i])
		if s.many[i] == 4 {
			c[2].Late, c[3].Late = late, late
			c[2].Height, c[3].Height = float64(c[2].Height*q.third[i]), float64(c[3].Height*q.fourth[i])
		}
	}
}
