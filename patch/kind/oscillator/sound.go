package oscillator

import (
	"math"

	"lampblack/patch/dsp/lanes"
	"lampblack/patch/dsp/step"
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

// past is how many samples what moved the cycle is remembered.
const past = 2 * along

// sound is a running oscillator. The sine is computed where it is heard; the
// other shapes are computed step.Delay samples ahead, in a line that mends
// their corners. What is kept of every sample is kept in arrays that begin with
// the past before this piece of the block.
type sound struct {
	line step.Line

	own   [past + module.MaxBlock]float64 // steps of the oscillator's own phase: from this sample to the next
	steps [past + module.MaxBlock]float64 // of the phase that is heard
	spans [past + module.MaxBlock]float64 // of the width of the pulse

	places [past + module.MaxBlock]int64   // the phase that is heard, of the sample in line
	widths [past + module.MaxBlock]int64   // of the pulse there
	resets [past + module.MaxBlock]float64 // 1 + when in its step it is set back; 0 if it is not
	backs  [past + module.MaxBlock]int64   // and by how much

	corners [64]step.Corner // not mended yet
	listed  int
	solver  solver        // for those that lie on curves
	asked   int           // how many these are
	first   [solved]uint8 // where on the list each begins
	many    [solved]uint8 // and how many orders it has

	way way // the step that is mended

	overs          [past + module.MaxBlock]float64 // steps of the phase past the width, if overtakes
	bent, overBent [past + module.MaxBlock]float64 // by how much the curves of these steps bend, if measured
	measured       bool
	overtakes      bool // whether the width moves

	inverse float64 // 1 / sample rate
	shape   int     // the shape that runs, or -1
	phase   int64   // own phase: of the last sine, or of the newest sample in line
	lean    float64 // what phase and feedback last added to the phase, in cycles
	width   float64 // the last one
	calm    int     // for how many samples nothing has moved the steps, at least
	heard   [2]float64
	feeds   bool // whether heard, the last two sines of the phase, is kept up
	joined  bool // whether something may start the cycle again
	limited bool // whether a frequency or an output had to be limited
	starts  starts
	table   *step.Table
	sines   *step.Sines
}

func newSound(s module.Setup) module.Sound {
	return &sound{inverse: 1 / s.Rate, shape: -1, table: step.Load(s.Rate), sines: step.LoadSines(s.Rate)}
}

// Block runs the cycle on.
func (s *sound) Block(b *module.Block) {
	m, shape := newMoves(b), &b.Controls[1]
	if s.joined && m.sync == nil {
		clear(s.resets[:])
		clear(s.backs[:])
	}
	s.joined = m.sync != nil
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
		if to-from == b.N {
			s.run(b.Out[0][:b.N], &m, 0)
		} else {
			part := m.part(from, to)
			s.run(b.Out[0][from:to], &part, from)
		}
		from = to
	}
	s.starts.flush(b.Out[1][:b.N])
	b.Clamped = b.Clamped || s.limited
	s.limited = false
}

// begin changes the shape at sample i. The phase goes on where it is; a shape that
// is computed ahead gets a past and a future as if all that moves it had always
// stood where it stands now.
func (s *sound) begin(shape int, m *moves, i int) {
	dt, lead := s.cycles(m.frequency[i]+m.shift[i]), lean(m.phase[i])
	switch {
	case s.shape > sine:
		s.phase -= (step.Delay - 1) * fixed(dt) // back from the newest sample to the next one heard
	case s.shape == sine:
		s.phase += fixed(s.own[past-1])
	}
	s.shape = shape
	s.lean, s.feeds, s.width, s.calm = lead, false, m.width[i], 0
	if shape == sine {
		clear(s.own[:past]) // the next one heard is where the phase is
		return
	}
	s.phase -= (step.Delay + 1) * fixed(dt)
	for k := range past {
		s.own[k], s.steps[k], s.spans[k] = dt, dt, 0
		s.places[k] = s.phase + fixed(lead) - int64(past-1-k)*fixed(dt)
		s.widths[k] = fixed(m.width[i])
		s.resets[k], s.backs[k] = 0, 0
	}
	s.line = step.Line{}
	told := s.starts
	once := m.part(i, i+1)
	once.sync = nil
	for range step.Points {
		var y [1]float64
		s.run(y[:], &once, 0)
	}
	s.starts = told // the past has been
}

// run makes the next samples of the shape that runs, which begin at sample at of
// the block.
func (s *sound) run(out []float64, m *moves, at int) {
	if s.still(m) {
		s.runStill(out, at)
		return
	}
	n := len(out)
	s.step(m, n)
	if s.shape == sine {
		s.sine(out, m, at)
		s.settle(m, s.own[:], n)
		copy(s.own[:past], s.own[n:])
		return
	}
	if m.sync != nil {
		s.restarted(m, at)
	} else {
		s.turned(n, at)
	}
	s.leaned(m, n)
	s.widen(m, n)
	s.settle(m, s.steps[:], n)
	s.draw(s.line.Shape(n))
	s.mendMoved(n)
	s.mendListed()
	s.line.Take(out)
	s.limit(out)
	s.keep(n)
}

// keep makes the last samples the past.
func (s *sound) keep(n int) {
	copy(s.own[:past], s.own[n:])
	copy(s.steps[:past], s.steps[n:])
	copy(s.places[:past], s.places[n:])
	if s.shape == pulse {
		copy(s.spans[:past], s.spans[n:])
		copy(s.widths[:past], s.widths[n:])
	}
	if s.joined {
		copy(s.resets[:past], s.resets[n:])
		copy(s.backs[:past], s.backs[n:])
	}
}

// limit holds what is heard where it could come out of a shape, 1.3 of a square:
// only a phase that jumps about by cycles within a sample can add up so many
// corners that it goes beyond.
func (s *sound) limit(out []float64) {
	if lanes.Within(out, limit) {
		return
	}
	for i, y := range out {
		if !(math.Abs(y) <= limit) {
			out[i], s.limited = math.Copysign(limit, y), true
		}
	}
}

// limit is far outside of what a shape reaches.
const limit = 4
