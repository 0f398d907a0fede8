package oscillator

import (
	"math/bits"

	"lampblack/patch/dsp/lanes"
	"lampblack/patch/module"
)

// moves are the values of all that moves the cycle, and where the signal that
// starts it again is joined.
type moves struct {
	frequency, shift, width, phase, feedback []float64
	sync                                     []float64 // nil if nothing is joined
	still                                    bool      // whether no value changes
	even, leans, feeds                       bool      // whether the frequency never changes, whether phase and feedback may be anything but 0
}

func newMoves(b *module.Block) moves {
	c := b.Controls
	m := moves{frequency: c[0].V[:b.N], shift: c[3].V[:b.N], width: c[2].V[:b.N], phase: c[4].V[:b.N], feedback: c[5].V[:b.N]}
	if b.Joined[0] {
		m.sync = b.In[0][:b.N]
	}
	m.even = c[0].Steady && c[3].Steady
	m.leans, m.feeds = !nothing(&c[4]), !nothing(&c[5])
	m.still = m.even && c[2].Steady && m.sync == nil && !m.leans && !m.feeds
	return m
}

// nothing says whether a control stands at 0 for the whole block, at a glance.
func nothing(c *module.Control) bool { return c.Steady && c.V[0] == 0 }

func (m *moves) part(from, to int) moves {
	p := *m
	p.frequency, p.shift, p.width = m.frequency[from:to], m.shift[from:to], m.width[from:to]
	p.phase, p.feedback = m.phase[from:to], m.feedback[from:to]
	if m.sync != nil {
		p.sync = m.sync[from:to]
	}
	return p
}

// lean is a phase in cycles; what is no number leans nowhere.
func lean(degrees float64) float64 {
	if !(degrees <= mostDegrees && degrees >= -mostDegrees) {
		return 0
	}
	return float64(degrees * (1.0 / 360))
}

// cycles is the step of the phase in one sample, forwards or backwards.
func (s *sound) cycles(hz float64) float64 {
	dt := float64(hz * s.inverse)
	if !(dt >= -highest) {
		s.limited = true
		return -highest
	}
	if dt > highest {
		s.limited = true
		return highest
	}
	return dt
}

// step finds the steps of the oscillator's own phase.
func (s *sound) step(m *moves, n int) {
	d := s.own[past : past+n]
	if m.even {
		lanes.Fill(d, s.cycles(m.frequency[0]+m.shift[0]))
		return
	}
	lanes.Add(d, m.frequency, m.shift)
	lanes.Scale(d, d, s.inverse)
	if !lanes.Within(d, highest) {
		lanes.Clamp(d, -highest, highest, new(lanes.Reach))
		s.limited = true
	}
}

// turned moves the own phase on where nothing starts the cycle again, and tells
// where it starts by itself.
func (s *sound) turned(n, at int) {
	if s.joined { // but in the past before a shape
		clear(s.resets[past-1 : past+n])
		clear(s.backs[past-1 : past+n])
	}
	d := s.own[past-1 : past-1+n]
	places := s.places[past : past+n]
	before, p := s.phase, s.phase
	var starts uint64 // a bit for every step
	for i, dt := range d {
		next := p + fixed(dt)
		starts = starts>>1 | uint64(differ(p, next))<<63
		places[i] = next
		p = next
	}
	starts >>= 64 - n
	for ; starts != 0; starts &= starts - 1 {
		i := bits.TrailingZeros64(starts)
		from := before
		if i > 0 {
			from = places[i-1]
		}
		s.tell(at, i, from, places[i])
	}
	s.phase = p
}

// tell tells the start of a cycle in the step that ends with sample i.
func (s *sound) tell(at, i int, from, to int64) {
	d := s.own[past+i-2 : past+i+1]
	boundary := to >> digits
	if more(to, from) < 0 {
		boundary = from >> digits
	}
	q := path{d[1], d[1] - d[0], d[2] - d[1]}
	s.starts.tell(at+i, q.reach(cycles(boundary<<digits-from)))
}

// restarted is turned where a signal may start the cycle again.
func (s *sound) restarted(m *moves, at int) {
	p := s.phase
	for i, x := range m.sync {
		k := past + i
		next := p + fixed(s.own[k-1])
		reset := rise(s.starts.last, x)
		s.starts.last = x
		if reset >= 0 {
			s.backs[k-1] = p + fixed(own((*[7]float64)(s.own[k-6:]), reset))
			s.resets[k-1] = 1 + reset
			next -= s.backs[k-1]
			s.starts.tell(at+i, reset)
		} else {
			s.backs[k-1], s.resets[k-1] = 0, 0
			if differ(p, next) != 0 {
				s.tell(at, i, p, next)
			}
		}
		s.places[k] = next
		p = next
	}
	s.phase = p
}

// halfCycle is how far, in cycles, a wave of +-1 leans its own phase at a
// feedback of 100 %.
const halfCycle = 0.5

// fed is how far the sine of the phase that was heard leans the next phase. Fed
// back as it is, one sample late, a strong sine would jump between two values
// from one sample to the next; the mean of the last two has a zero at half the
// rate, where that would begin. Source: Tomisawa's averaged feedback, from memory.
func (s *sound) fed(feedback float64) float64 {
	return float64(feedback * float64((s.heard[0]+s.heard[1])*(0.5*halfCycle)))
}

// leaned adds what phase and feedback move to the places, and finds the steps.
func (s *sound) leaned(m *moves, n int) {
	d, steps := s.own[past:past+n], s.steps[past:past+n]
	if !m.leans && !m.feeds && s.lean == 0 {
		copy(steps, d)
		s.feeds = false
		return
	}
	places, l := s.places[past-1:past+n], s.lean
	for i, dt := range d {
		places[i+1] += fixed(l)
		next := lean(m.phase[i])
		if feedback := m.feedback[i]; feedback > 0 {
			if !s.feeds {
				s.heard[1] = lanes.Tone(turn(places[i]))
			}
			s.feeds = true
			s.heard[0], s.heard[1] = s.heard[1], lanes.Tone(turn(places[i+1]))
			next += s.fed(feedback)
		} else {
			s.feeds = false
		}
		steps[i] = dt + (next - l)
		l = next
	}
	s.lean = l
}

// widen finds the widths of the pulse.
func (s *sound) widen(m *moves, n int) {
	if s.shape != pulse {
		return
	}
	w, widths, spans := s.width, s.widths[past:past+n], s.spans[past:past+n]
	for i, next := range m.width[:n] {
		widths[i] = fixed(w)
		spans[i] = next - w
		w = next
	}
	s.width = w
}

// settle counts the samples for which nothing has moved the steps.
func (s *sound) settle(m *moves, steps []float64, n int) {
	if !m.still || s.shape == pulse && s.spans[past] != 0 {
		s.calm = 0
		return
	}
	if steps[past] != steps[past-1] {
		s.calm = 0
	}
	s.calm += n
}

// sine makes a sine where it is heard.
func (s *sound) sine(out []float64, m *moves, at int) {
	before := s.phase
	s.turned(len(out), at)
	places := s.places[past : past+len(out)]
	if m.feeds {
		s.feedSine(out, places, m.phase, m.feedback, before)
		return
	}
	s.feeds = false
	var turns [module.MaxBlock]uint64
	if !m.leans {
		for i, p := range places {
			turns[i] = turn(p)
		}
		s.lean = 0
	} else {
		for i, p := range places {
			s.lean = lean(m.phase[i])
			turns[i] = turn(p + fixed(s.lean))
		}
	}
	lanes.Tones(out, turns[:len(out)])
}

// feedSine makes a sine that leans its own phase. before is the place of the last
// one, without what leaned it.
func (s *sound) feedSine(out []float64, places []int64, phase, feedback []float64, before int64) {
	for i, p := range places {
		l := lean(phase[i])
		if feedback[i] > 0 {
			if !s.feeds {
				// As if it had leaned as far the sample before.
				s.heard[1] = lanes.Tone(turn(before + fixed(s.lean)))
				s.heard[0] = lanes.Tone(turn(before + fixed(s.lean) - fixed(s.own[past+i-2])))
			}
			l += s.fed(feedback[i])
		}
		s.feeds = feedback[i] > 0
		out[i] = lanes.Tone(turn(p + fixed(l)))
		s.heard[0], s.heard[1] = s.heard[1], out[i]
		before, s.lean = p, l
	}
}
