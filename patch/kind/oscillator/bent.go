package oscillator

import (
	"math"

	"lampblack/patch/dsp/approx"
)

// This file runs the cycle where more than frequency and width move it: shift,
// phase, feedback, and a cycle that is started again. The phase that is heard,
//
//	the oscillator's own phase + phase + feedback,
//
// may run either way and as fast as it likes. Elsewhere the plain loops of
// sound.go do, which give the same.

// moves are the values of all that moves the cycle, and where the signal that
// starts it again is joined.
type moves struct {
	frequency, shift, width, phase, feedback []float64
	sync                                     []float64 // nil if nothing is joined
}

func (m *moves) part(from, to int) moves {
	p := moves{m.frequency[from:to], m.shift[from:to], m.width[from:to], m.phase[from:to], m.feedback[from:to], nil}
	if m.sync != nil {
		p.sync = m.sync[from:to]
	}
	return p
}

// memory is how many samples what moved the cycle is remembered: the curve from
// one sample to the next looks four back and two ahead.
const memory = 8

// mixed runs the plain loops where they will do and bent steps elsewhere. Which
// of them runs at a sample depends on nothing but what has come in until then.
func (s *sound) mixed(out []float64, m moves, at int) {
	for i := 0; i < len(out); {
		from := i
		for i < len(out) && s.plain(&m, i) {
			i++
		}
		if i > from {
			s.settle()
			s.run(out[from:i], m.frequency[from:i], m.width[from:i], at+from)
		}
		if s.shape == sine {
			i = s.bentSines(out, &m, i, at)
		}
		for i < len(out) && !s.plain(&m, i) && !(s.shape == sine && m.feedback[i] == 0) {
			s.bend(&out[i], &m, i, at+i)
			i++
		}
	}
}

// plain says whether the plain loops will do at sample i.
func (s *sound) plain(m *moves, i int) bool {
	return m.sync == nil && m.shift[i] == 0 && m.phase[i] == 0 && m.feedback[i] == 0 && s.bent == 0
}

// bend makes the sample i where the plain loops will not do.
func (s *sound) bend(out *float64, m *moves, i, at int) {
	if m.shift[i] != 0 || m.phase[i] != 0 || m.feedback[i] != 0 {
		s.bent = memory
	} else if s.bent > 0 {
		s.bent--
	}
	reset := -1.0
	if m.sync != nil {
		reset = rise(s.starts.last, m.sync[i])
		s.starts.last = m.sync[i]
	}
	dt := s.signed(m.frequency[i] + m.shift[i])
	phase, feedback := lean(m.phase[i]), m.feedback[i]
	if s.shape == sine {
		*out = s.bentSine(dt, phase, feedback, at)
		return
	}
	y := s.bentShape(dt, m.width[i], phase, feedback, reset, at)
	if !(y <= limit && y >= -limit) {
		y, s.limited = math.Copysign(limit, y), true
	}
	*out = y
}

// limit is far outside of what a shape reaches, 1.3 of a square: only a phase that
// jumps about by cycles within a sample can add up so many corners.
const limit = 4

// lean is a phase in cycles; what is no number leans nowhere.
func lean(degrees float64) float64 {
	if !(degrees <= mostDegrees && degrees >= -mostDegrees) {
		return 0
	}
	return float64(degrees * (1.0 / 360))
}

// signed is the step of the phase in one sample, forwards or backwards.
func (s *sound) signed(hz float64) float64 {
	dt := float64(hz * s.inverse)
	if dt < -highest {
		return -highest
	}
	if !(dt <= highest) {
		return highest
	}
	return dt
}

// halfCycle is how far, in cycles, a wave of +-1 leans its own phase at a
// feedback of 100 %.
const halfCycle = 0.5

// fed is how far the sine of the phase that was heard leans the next phase. Fed
// back as it is, one sample late, a strong sine would jump between two values
// from one sample to the next; the mean of the last two has a zero at half the
// rate, where that would begin. Source: Tomisawa's averaged feedback, from memory.
func (s *sound) fed(feedback float64) float64 {
	if !(feedback > 0) {
		return 0
	}
	return float64(feedback * float64((s.heard[0]+s.heard[1])*(0.5*halfCycle)))
}

// bentSines makes the samples of a sine from i on, for as long as nothing is fed
// back and the plain loop will not do, and returns the number of the next: as
// bentSine, but all sines at once.
func (s *sound) bentSines(out []float64, m *moves, i, at int) int {
	p, d0, d1, l1, l2 := s.phase, s.d0, s.d1, s.leans[1], s.leans[2]
	from, l0, bent := i, s.leans[0], s.bent
	for ; i < len(out) && m.feedback[i] == 0; i++ {
		if m.shift[i] != 0 || m.phase[i] != 0 {
			bent = memory
		} else if bent == 0 {
			break
		} else {
			bent--
		}
		d2 := s.signed(m.frequency[i] + m.shift[i])
		p1, turns := wrapped(p + d1)
		if turns != 0 {
			s.d0, s.d1 = d0, d1
			s.tell(p, d2, turns, at+i)
		}
		l := lean(m.phase[i])
		out[i] = turn(p1 + l)
		p, d0, d1 = p1, d1, d2
		l0, l1, l2 = l1, l2, l
	}
	if i > from {
		s.phase, s.d0, s.d1, s.leans, s.bent, s.feeds = p, d0, d1, [3]float64{l0, l1, l2}, bent, false
		approx.Sines(out[from:i])
	}
	return i
}

// bentSine is the next sample of a sine. As in the plain loop, s.phase is that of
// the sample before.
func (s *sound) bentSine(d2, phase, feedback float64, at int) float64 {
	p, d0, d1 := s.phase, s.d0, s.d1
	if feedback > 0 && !s.feeds {
		s.heard[0], s.heard[1] = approx.Sine(turn(p-d0+s.leans[1])), approx.Sine(turn(p+s.leans[2]))
	}
	p1, turns := wrapped(p + d1)
	if turns != 0 {
		s.tell(p, d2, turns, at)
	}
	l := phase + s.fed(feedback)
	y := approx.Sine(turn(p1 + l))
	s.phase, s.d0, s.d1 = p1, d1, d2
	s.leans[0], s.leans[1], s.leans[2] = s.leans[1], s.leans[2], l
	s.heard[0], s.heard[1], s.feeds = s.heard[1], y, feedback > 0
	return y
}

// wrapped returns p within 0 to 1 cycles, 1 excluded, and the whole cycles taken
// away.
func wrapped(p float64) (rest, turns float64) {
	switch {
	case p >= 0 && p < 1:
		return p, 0
	case p >= 1 && p < 2:
		return p - 1, 1
	}
	turns = math.Floor(p)
	if rest = p - turns; rest >= 1 {
		return 0, turns + 1
	}
	return rest, turns
}

// bentShape puts the next sample of a shape in line. The corners of the step to it
// are mended with the next one, when more of the path is known.
func (s *sound) bentShape(d2, width, phase, feedback, reset float64, at int) float64 {
	p, d0, d1 := s.phase, s.d0, s.d1
	l0, l1, l2 := s.leans[0], s.leans[1], s.leans[2]
	w0, w1, w2 := s.widths[0], s.widths[1], s.widths[2]
	if !s.kept {
		s.steps.fill(d0+(l1-l0), d1+(l2-l1))
		s.spans.fill(w1-w0, w2-w1)
	}
	next, turns, back := s.ownStep(p, d2, reset, at)

	if feedback > 0 {
		if !s.feeds {
			s.heard[1] = approx.Sine(turn(p + l1))
		}
		s.heard[0], s.heard[1] = s.heard[1], approx.Sine(turn(next+l2))
	}
	s.feeds = feedback > 0
	l3 := phase + s.fed(feedback)

	s.steps.push(d2 + (l3 - l2))
	if s.shape == pulse {
		s.spans.push(width - w2)
	}
	st := &s.last
	if !s.kept {
		st.here = s.count(p+l1, w1)
		s.kept = true
	} else if s.corners(st) {
		s.mend(st)
	}
	e := next + l2
	here, to, y := s.place(e, w2, turns)
	st.phase, st.width, st.reset, st.back = p+l1, w1, reset, back
	st.from.first, st.from.second = st.here.first, st.here.second
	st.to.first, st.to.second = to.first, to.second
	st.here.first, st.here.second = here.first, here.second

	s.phase, s.d0, s.d1 = next, d1, d2
	s.leans[0], s.leans[1], s.leans[2] = l1, l2, l3
	s.widths[0], s.widths[1], s.widths[2] = w1, w2, width
	return s.line.Put(y)
}

// ownStep returns where the oscillator's own phase goes from p, and how many whole
// cycles and how much by being set back at time reset are taken away.
func (s *sound) ownStep(p, d2, reset float64, at int) (next, turns, back float64) {
	d0, d1 := s.d0, s.d1
	if s.joined {
		if !s.owns {
			s.own.fill(d0, d1)
			s.owns = true
		}
		s.own.push(d2)
	}
	if reset >= 0 {
		// What the phase has reached is heard from now on, so it must be exact.
		var own curve
		own.own(p, s.own.last())
		back = own.at(reset)
		s.starts.tell(at, reset)
		next, turns = wrapped(p + d1 - back)
		return next, turns, back
	}
	if next, turns = wrapped(p + d1); turns != 0 {
		s.tell(p, d2, turns, at)
	}
	return next, turns, 0
}

// tell tells the start of a cycle where the oscillator's own phase passes 1, or 0
// on the way back.
func (s *sound) tell(p, d2, turns float64, at int) {
	x := 0.0
	if turns > 0 {
		x = 1
	}
	s.starts.tell(at, (&path{p, s.d1, s.d1 - s.d0, d2 - s.d1}).cycle(x))
}

// stretch is what must be known of the way between two samples to mend its
// corners one sample later, when one more sample of the path is known.
type stretch struct {
	phase, width   float64 // where it starts
	from, to, here passed  // the corners passed by then, and at its end; and there without the whole cycles
	reset, back    float64 // when the phase is set back (never if below 0), and by how much
}

// settle mends the last stretch when the plain loops go on: nothing but frequency
// has moved the cycle for a while.
func (s *sound) settle() {
	if !s.kept {
		return
	}
	s.steps.push(s.steps.last()[reaches-1])
	s.spans.push(s.widths[2] - s.widths[1])
	if s.corners(&s.last) {
		s.mend(&s.last)
	}
	s.kept = false
}

// corners says whether there may be anything to mend: a phase that runs one way and
// passes no corner has none. It runs one way if both neighbouring steps do, and are
// not much shorter.
func (s *sound) corners(st *stretch) bool {
	if st.from.first != st.to.first || st.from.second != st.to.second || st.reset >= 0 {
		return true
	}
	steps := s.steps.last()
	d := steps[along]
	least := float64(0.25 * float64(d*d))
	return s.shape != ahead && !(float64(d*steps[along-1]) > least && float64(d*steps[along+1]) > least)
}

// track keeps the last steps of something.
type track struct {
	steps [reaches + 256]float64
	head  int
}

func (t *track) last() *[reaches]float64 { return (*[reaches]float64)(t.steps[t.head:]) }

func (t *track) push(step float64) {
	if t.head++; t.head+reaches > len(t.steps) {
		copy(t.steps[:], t.steps[t.head:])
		t.head = 0
	}
	t.steps[t.head+reaches-1] = step
}

// fill takes the steps to have been before, but for the last one.
func (t *track) fill(before, last float64) {
	t.head = 0
	for i := range reaches {
		t.steps[i] = before
	}
	t.steps[reaches-1] = last
}
