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
		for i < len(out) && !s.plain(&m, i) {
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
	*out = s.bentShape(dt, m.width[i], phase, feedback, reset, at)
}

// lean is a phase in cycles; what is no number leans nowhere.
func lean(degrees float64) float64 {
	if !(math.Abs(degrees) <= mostDegrees) {
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

// bentSine is the next sample of a sine. As in the plain loop, s.phase is that of
// the sample before.
func (s *sound) bentSine(d2, phase, feedback float64, at int) float64 {
	p, d0, d1 := s.phase, s.d0, s.d1
	if feedback > 0 && !s.feeds {
		s.heard = [2]float64{approx.Sine(turn(p - d0 + s.leans[1])), approx.Sine(turn(p + s.leans[2]))}
	}
	p1, turns := wrapped(p + d1)
	if turns != 0 {
		x := 0.0
		if turns > 0 {
			x = 1
		}
		s.starts.tell(at, (&path{p, d1, d1 - d0, d2 - d1}).cycle(x))
	}
	l := phase + s.fed(feedback)
	y := approx.Sine(turn(p1 + l))
	s.phase, s.d0, s.d1 = p1, d1, d2
	s.leans = [3]float64{s.leans[1], s.leans[2], l}
	s.heard, s.feeds = [2]float64{s.heard[1], y}, feedback > 0
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

// bentShape puts the next sample of a shape in line: the corners between the
// newest sample and the next are mended, and the next is added.
func (s *sound) bentShape(d2, width, phase, feedback, reset float64, at int) float64 {
	p, d0, d1, l, w := s.phase, s.d0, s.d1, s.leans, s.widths
	if !s.kept {
		s.own = [reaches]float64{d0, d0, d0, d0, d0, d1}
	}
	s.own = [reaches]float64{s.own[1], s.own[2], s.own[3], s.own[4], s.own[5], d2}
	p1 := p + d1
	back := 0.0 // by how much the phase is set back
	if reset >= 0 {
		own := ownCurve(p, &s.own)
		back = own.at(reset)
		p1 -= back
		s.starts.tell(at, reset)
	}
	next, turns := wrapped(p1)
	if turns != 0 && reset < 0 {
		own := ownCurve(p, &s.own)
		x := 0.0
		if turns > 0 {
			x = 1
		}
		s.starts.tell(at, own.find(x, 0, 1))
	}

	if feedback > 0 {
		if !s.feeds {
			s.heard[1] = approx.Sine(turn(p + l[1]))
		}
		s.heard = [2]float64{s.heard[1], approx.Sine(turn(next + l[2]))}
	}
	s.feeds = feedback > 0
	l2 := phase + s.fed(feedback)

	st := stretch{
		from: s.count(p+l[1], w[1]), to: s.later(s.count(next+l[2], w[2]), turns),
		phase: p + l[1], width: w[1], back: back, reset: reset,
	}
	s.remember(d0+(l[1]-l[0]), d1+(l[2]-l[1]), d2+(l2-l[2]), w, width)
	if s.kept {
		s.mend(&s.last)
	}
	s.last, s.kept = st, true

	s.phase, s.d0, s.d1 = next, d1, d2
	s.leans = [3]float64{l[1], l[2], l2}
	s.widths = [3]float64{w[1], w[2], width}
	return s.line.Put(s.shaped(next+l[2], s.count(next+l[2], w[2])))
}

// stretch is what must be known of the way between two samples to mend its
// corners one sample later, when one more sample of the path is known.
type stretch struct {
	phase, width float64 // where it starts
	from, to     passed  // the corners passed by then, and at its end
	reset, back  float64 // when the phase is set back (never if below 0), and by how much
}

// remember keeps the last steps of the phase that is heard, and of the width: to
// the newest sample but one, to the newest, and to the next. What it has not kept
// up it takes to have been steady.
func (s *sound) remember(before, last, next float64, w [3]float64, width float64) {
	if !s.kept {
		a, b := w[1]-w[0], w[2]-w[1]
		s.steps = [reaches]float64{before, before, before, before, before, before, last}
		s.spans = [reaches]float64{a, a, a, a, a, a, b}
	}
	copy(s.steps[:], s.steps[1:])
	copy(s.spans[:], s.spans[1:])
	s.steps[reaches-1], s.spans[reaches-1] = next, width-w[2]
}

// settle mends the last stretch when the plain loops go on: nothing but frequency
// has moved the cycle for a while.
func (s *sound) settle() {
	if !s.kept {
		return
	}
	s.remember(0, 0, s.steps[reaches-1], s.widths, s.widths[2])
	s.mend(&s.last)
	s.kept = false
}
