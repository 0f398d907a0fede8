package contour

import (
	"lampblack/patch/dsp/gate"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// mostTimes is the largest number of passes through a loop.
const mostTimes = 100

// The controls, by their place.
const (
	length = iota
	level
	sustain
	release
	loopFrom
	loopTo
	times
	retrigger
)

// What the contour is doing.
const (
	resting = iota // before the first start, and after the end
	running
	waiting // at the sustain point
)

// What a start does, in the order of the control's choices.
const (
	fromWhereItStands = iota
	fromZero
	notWhileItRuns
)

type sound struct {
	table *table
	rate  float64 // samples a second

	y       float64 // the level
	doing   int
	gate    bool
	trigger gate.Edge
	way     way
	passes  int // through the loop
}

func newSound(s module.Setup) module.Sound {
	rows := s.Rows
	if rows == nil {
		rows = words.Table.Start
	}
	return &sound{table: newTable(rows, s.Rate), rate: s.Rate}
}

// Block follows the contour. The sample of a start is time 0 of the first row.
func (s *sound) Block(b *module.Block) {
	held, trigger := b.In[0][:b.N], b.In[1][:b.N]
	out, end := b.Out[0][:b.N], b.Out[1][:b.N]
	lengths, scale := b.Controls[length].V[:b.N], b.Controls[level].V[:b.N]
	for i := 0; i < b.N; i++ {
		end[i] = 0
		s.follow(b, i, gate.Up(held[i]), s.trigger.Rises(trigger[i]))
		switch s.doing {
		case running:
			s.run(b, i, lengths[i])
			if s.doing == resting {
				end[i] = 1
			}
		case waiting:
			if !s.gate || s.number(b, sustain, i) != s.way.row+1 {
				s.doing = running
				s.leave(b, i)
				s.run(b, i, lengths[i])
				if s.doing == resting {
					end[i] = 1
				}
			}
		}
		out[i] = float64(s.y * scale[i])
		i += s.coast(b, i)
	}
}

// coast goes on behind sample i for as long as nothing happens, and returns how
// many samples that was. It does what Block would do, in less time.
func (s *sound) coast(b *module.Block, i int) int {
	if s.doing == waiting {
		return 0
	}
	held, trigger, lengths := b.In[0][i:b.N], b.In[1][i:b.N], b.Controls[length].V[i:b.N]
	out, end, scale := b.Out[0][i:b.N], b.Out[1][i:b.N], b.Controls[level].V[i:b.N]
	for k := 1; k < len(out); k++ {
		if gate.Up(held[k]) != s.gate || gate.Up(trigger[k]) != bool(s.trigger) {
			return k - 1
		}
		if s.doing == running {
			if lengths[k] != lengths[0] || s.way.arrived() {
				return k - 1
			}
			s.y = s.way.level(s.table)
			s.way.step()
		}
		out[k], end[k] = float64(s.y*scale[k]), 0
	}
	return len(out) - 1
}

// number is a stepped control at sample i.
func (s *sound) number(b *module.Block, which, i int) int {
	return control.Number(b.Controls[which].V[i], mostTimes)
}

// follow starts the contour, or releases it, when the gate or the trigger changes.
func (s *sound) follow(b *module.Block, i int, held, struck bool) {
	was := s.gate
	s.gate = held
	if was && !held && s.doing == running && s.number(b, release, i) == 1 {
		s.y = s.now()
		s.letGo(b, i)
	}
	if !struck && (!held || was) {
		return
	}
	mode := s.number(b, retrigger, i)
	if mode == notWhileItRuns && s.doing != resting {
		return
	}
	if s.y = s.now(); mode == fromZero {
		s.y = 0
	}
	s.doing, s.passes = running, 0
	s.way.begin(s.table, 0, s.y)
}

// now is the level at a sample that has not been run yet.
func (s *sound) now() float64 {
	if s.doing == running && s.way.row < s.table.n {
		return s.way.level(s.table)
	}
	return s.y
}

// letGo goes straight to the rows behind what the gate held: the sustain point,
// or the end of an endless loop. If there are none, the contour is over on the
// spot.
func (s *sound) letGo(b *module.Block, i int) {
	behind := s.number(b, sustain, i)
	if behind == 0 || behind > s.table.n || s.way.row >= behind {
		_, last, endless := s.loop(b, i)
		if !endless || s.way.row >= last {
			return
		}
		behind = last
	}
	s.way.begin(s.table, behind, s.y)
}

// loop returns the first and the last row of the loop, from 1 on, and whether it
// lasts as long as the gate. The last one is 0 if there is no loop.
func (s *sound) loop(b *module.Block, i int) (first, last int, endless bool) {
	first, last = s.number(b, loopFrom, i), s.number(b, loopTo, i)
	if first < 1 || last < first || last > s.table.n {
		return 0, 0, false
	}
	return first, last, s.number(b, times, i) == 0
}

// run brings the contour to sample i and puts its level into y.
func (s *sound) run(b *module.Block, i int, length float64) {
	s.way.pace(s.table, s.speed(length))
	// A loop of jumps alone would never end: no more rows than there are, twice
	// over, may pass in one sample.
	for range 2 * mostRows {
		if s.way.row >= s.table.n {
			s.doing = resting
			return
		}
		if !s.way.arrived() {
			break
		}
		s.y = s.table.level[s.way.row]
		if s.gate && s.number(b, sustain, i) == s.way.row+1 {
			s.doing = waiting
			s.way.stop(s.table)
			return
		}
		s.leave(b, i)
	}
	if s.way.row >= s.table.n {
		s.doing = resting
		return
	}
	s.y = s.way.level(s.table)
	s.way.step()
}

// leave goes from the end of a row to the start of the next, or of the loop.
func (s *sound) leave(b *module.Block, i int) {
	first, last, endless := s.loop(b, i)
	if s.way.row+1 == last {
		s.passes++
		if endless && s.gate || !endless && s.passes < s.number(b, times, i) {
			s.way.back(s.table, first-1, s.y)
			return
		}
		s.passes = 0
	}
	s.way.enter(s.table, s.way.row+1, s.y)
}

// speed returns how many samples of the contour as drawn pass in one sample.
func (s *sound) speed(length float64) float64 {
	if !(length > 0) || s.table.total() == 0 {
		return 1
	}
	return s.table.total() / float64(max(length, shortest)*s.rate)
}

// shortest is the shortest length, in seconds, to which a contour is squeezed.
const shortest = 1e-6
