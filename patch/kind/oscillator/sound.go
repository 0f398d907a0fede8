package oscillator

import (
	"math"

	"lampblack/patch/dsp/approx"
	"lampblack/patch/dsp/step"
	"lampblack/patch/dsp/wave"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// highest is the highest frequency, as a part of the sample rate.
const highest = 0.49

// The shapes, in the order of the control's choices.
const (
	sine = iota
	triangle
	saw
	pulse
	shapes
	ahead = shapes // a sine computed ahead, because its cycle may be started again
)

// sound is a running oscillator. The sine is computed where it is heard; the
// other shapes are computed step.Delay samples ahead, in a line that mends
// their corners.
type sound struct {
	inverse float64    // 1 / sample rate
	shape   int        // the shape that runs, or -1
	phase   float64    // 0 <= phase < 1 cycles: of the last sine, or of the newest sample in line
	d0, d1  float64    // steps of the phase: to there, and to the next
	widths  [3]float64 // of the pulse: before, at and behind the newest sample in line
	table   *step.Table
	sines   *step.Sines
	line    step.Line

	leans             [3]float64 // what phase and feedback add to the phase, in cycles: before, at and behind the newest sample in line
	heard             [2]float64 // the last two sines of the phase, for the feedback
	feeds             bool       // whether these are kept up
	steps, spans, own track      // of the phase that is heard, of the width, and of the oscillator's own phase
	last              stretch    // whose corners are not mended yet
	kept              bool       // whether there is one, and steps and spans are kept up
	joined            bool       // whether something may start the cycle again
	owns              bool       // whether own is kept up, which is only then
	limited           bool       // whether an output had to be limited
	bent              int        // samples for which what moved the cycle is still remembered
	starts            starts
}

func newSound(s module.Setup) module.Sound {
	return &sound{inverse: 1 / s.Rate, shape: -1, table: step.Load(), sines: step.LoadSines()}
}

// Block runs the cycle on.
func (s *sound) Block(b *module.Block) {
	m, shape := s.moves(b), &b.Controls[1]
	s.joined = m.sync != nil
	s.owns = s.owns && s.joined
	still := !s.joined && nothing(&b.Controls[3]) && nothing(&b.Controls[4]) && nothing(&b.Controls[5])
	for from := 0; from < b.N; {
		form := control.Number(shape.V[from], shapes-1)
		to := b.N
		if !shape.Steady {
			for to = from + 1; to < b.N && control.Number(shape.V[to], shapes-1) == form; to++ {
			}
		}
		if form == sine && s.joined {
			form = ahead
		}
		if form != s.shape {
			s.begin(form, &m, from)
		}
		s.line.Reserve(to - from)
		if still && s.bent == 0 {
			s.run(b.Out[0][from:to], m.frequency[from:to], m.width[from:to], from)
		} else {
			s.mixed(b.Out[0][from:to], m.part(from, to), from)
		}
		from = to
	}
	s.starts.flush(b.Out[1][:b.N])
	b.Clamped = b.Clamped || s.limited || m.tooHigh(b.Controls[0].Steady && b.Controls[3].Steady, highest/s.inverse)
	s.limited = false
}

func (s *sound) moves(b *module.Block) moves {
	m := moves{b.Controls[0].V[:b.N], b.Controls[3].V[:b.N], b.Controls[2].V[:b.N], b.Controls[4].V[:b.N], b.Controls[5].V[:b.N], nil}
	if b.Joined[0] {
		m.sync = b.In[0][:b.N]
	}
	return m
}

// nothing says whether a control stands at 0 for the whole block, at a glance.
func nothing(c *module.Control) bool { return c.Steady && c.V[0] == 0 }

// tooHigh says whether the frequency is limited.
func (m *moves) tooHigh(steady bool, limit float64) bool {
	n := len(m.frequency)
	if steady {
		n = 1
	}
	for i, f := range m.frequency[:n] {
		if f += m.shift[i]; f > limit || f < -limit {
			return true
		}
	}
	return false
}

// cycles is the step of the phase in one sample.
func (s *sound) cycles(frequency float64) float64 {
	dt := float64(frequency * s.inverse)
	if !(dt <= highest) {
		dt = highest
	}
	return dt
}

// begin changes the shape at sample i. The phase goes on where it is; a shape that
// is computed ahead gets a past and a future as if all that moves it had always
// stood where it stands now.
func (s *sound) begin(shape int, m *moves, i int) {
	dt, lead := s.signed(m.frequency[i]+m.shift[i]), lean(m.phase[i])
	switch {
	case s.shape > sine:
		s.phase = turn(s.phase - float64((step.Delay-1)*dt)) // back from the newest sample to the next one heard
	case s.shape == sine:
		s.phase = turn(s.phase + s.d1)
	}
	s.shape = shape
	s.leans, s.feeds = [3]float64{lead, lead, lead}, false
	if shape == sine {
		s.d0, s.d1 = 0, 0 // the next one heard is where the phase is
		return
	}
	s.line, s.kept = step.Line{}, false
	s.d0, s.d1 = dt, dt
	s.widths = [3]float64{m.width[i], m.width[i], m.width[i]}
	s.phase = turn(s.phase - float64((step.Delay+1)*dt))
	past := m.part(i, i+1)
	past.sync = nil
	told := s.starts
	for range step.Points {
		var y [1]float64
		s.mixed(y[:], past, 0)
	}
	s.starts = told // the past has been
}

// turn brings a phase into 0 to 1 cycles, 1 excluded.
func turn(p float64) float64 {
	p -= math.Floor(p)
	if p >= 1 {
		return 0
	}
	return p
}

// run makes the next samples of the shape that runs, which begin at sample at of
// the block.
func (s *sound) run(out, frequency, width []float64, at int) {
	frequency, width = frequency[:len(out)], width[:len(out)]
	switch s.shape {
	case sine:
		s.sine(out, frequency, at)
	case triangle:
		s.triangle(out, frequency, at)
	case saw:
		s.saw(out, frequency, at)
	case pulse:
		s.pulse(out, frequency, width, at)
	}
}

func (s *sound) sine(out, frequency []float64, at int) {
	p, d0, d1 := s.phase, s.d0, s.d1
	for i := range out {
		d2 := s.cycles(frequency[i])
		p1 := p + d1
		if p1 >= 1 {
			s.starts.tell(at+i, (&path{p, d1, d1 - d0, d2 - d1}).reach(1))
			p1--
		}
		p, d0, d1 = p1, d1, d2
		out[i] = p
	}
	s.phase, s.d0, s.d1 = p, d0, d1
	approx.Sines(out)
}

func (s *sound) saw(out, frequency []float64, at int) {
	p, d0, d1 := s.phase, s.d0, s.d1
	for i := range out {
		d2 := s.cycles(frequency[i])
		p1 := p + d1
		if p < 0.5 && p1 >= 0.5 {
			q := path{p, d1, d1 - d0, d2 - d1}
			s.table.Jump(s.line.Window(), 1-q.reach(0.5), -2)
		}
		if p1 >= 1 {
			s.starts.tell(at+i, (&path{p, d1, d1 - d0, d2 - d1}).reach(1))
			p1--
		}
		p, d0, d1 = p1, d1, d2
		out[i] = s.line.Put(wave.Saw(p))
	}
	s.phase, s.d0, s.d1 = p, d0, d1
}

func (s *sound) triangle(out, frequency []float64, at int) {
	p, d0, d1 := s.phase, s.d0, s.d1
	for i := range out {
		d2 := s.cycles(frequency[i])
		p1 := p + d1
		switch {
		case p < 0.25 && p1 >= 0.25:
			s.bendAt(path{p, d1, d1 - d0, d2 - d1}, 0.25, -8)
		case p < 0.75 && p1 >= 0.75:
			s.bendAt(path{p, d1, d1 - d0, d2 - d1}, 0.75, 8)
		case p1 >= 1.25:
			s.bendAt(path{p, d1, d1 - d0, d2 - d1}, 1.25, -8)
		}
		if p1 >= 1 {
			s.starts.tell(at+i, (&path{p, d1, d1 - d0, d2 - d1}).reach(1))
			p1--
		}
		p, d0, d1 = p1, d1, d2
		out[i] = s.line.Put(wave.Triangle(p))
	}
	s.phase, s.d0, s.d1 = p, d0, d1
}

// bendAt mends a corner of the triangle, where its slope changes by turn for
// each cycle of phase.
func (s *sound) bendAt(q path, x, turn float64) {
	t := q.reach(x)
	s.table.Bend(s.line.Window(), 1-t, float64(turn*q.slope(t)))
	if bend := q.bend(t); bend != 0 {
		s.table.Bow(s.line.Window(), 1-t, float64(turn*bend))
	}
}
