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
)

// sound is a running oscillator. The sine is computed where it is heard; the
// other shapes are computed step.Delay samples ahead, in a line that mends
// their corners.
type sound struct {
	inverse float64    // 1 / sample rate
	shape   int        // the shape that runs, or -1
	phase   float64    // 0 <= phase < 1 cycles: of the next sine, or of the newest sample in line
	d0, d1  float64    // steps of the phase: to the newest sample in line, and to the next
	widths  [3]float64 // of the pulse: before, at and behind the newest sample in line
	table   *step.Table
	line    step.Line
}

func newSound(s module.Setup) module.Sound {
	return &sound{inverse: 1 / s.Rate, shape: -1, table: step.Load()}
}

// Block runs the cycle on.
func (s *sound) Block(b *module.Block) {
	frequency, shape := &b.Controls[0], &b.Controls[1]
	for from := 0; from < b.N; {
		form := control.Number(shape.V[from], shapes-1)
		to := b.N
		if !shape.Steady {
			for to = from + 1; to < b.N && control.Number(shape.V[to], shapes-1) == form; to++ {
			}
		}
		f, w := frequency.V[from:to], b.Controls[2].V[from:to]
		if form != s.shape {
			s.begin(form, s.cycles(f[0]), w[0])
		}
		s.line.Reserve(to - from)
		s.run(b.Out[0][from:to], f, w)
		b.Clamped = b.Clamped || tooHigh(f, frequency.Steady, highest/s.inverse)
		from = to
	}
}

func tooHigh(f []float64, steady bool, limit float64) bool {
	if steady {
		f = f[:1]
	}
	for _, x := range f {
		if x > limit {
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

// begin changes the shape. The phase goes on where it is; a shape that is
// computed ahead gets a past and a future as if the frequency had always been
// what it is now.
func (s *sound) begin(shape int, dt, width float64) {
	if s.shape > sine {
		s.phase = turn(s.phase - float64((step.Delay-1)*dt)) // back from the newest sample to the next one heard
	}
	s.shape = shape
	if shape == sine {
		return
	}
	s.line = step.Line{}
	s.d0, s.d1 = dt, dt
	s.widths = [3]float64{width, width, width}
	s.phase = turn(s.phase - float64((step.Delay+1)*dt))
	var past, f, w [step.Points]float64
	for i := range f {
		f[i], w[i] = dt/s.inverse, width
	}
	s.run(past[:], f[:], w[:])
}

// turn brings a phase into 0 to 1 cycles, 1 excluded.
func turn(p float64) float64 {
	p -= math.Floor(p)
	if p >= 1 {
		return 0
	}
	return p
}

// run makes the next samples of the shape that runs.
func (s *sound) run(out, frequency, width []float64) {
	switch s.shape {
	case sine:
		s.sine(out, frequency)
	case triangle:
		s.triangle(out, frequency)
	case saw:
		s.saw(out, frequency)
	case pulse:
		s.pulse(out, frequency, width)
	}
}

func (s *sound) sine(out, frequency []float64) {
	frequency = frequency[:len(out)]
	p := s.phase
	for i := range out {
		out[i] = p
		p += s.cycles(frequency[i])
		if p >= 1 {
			p--
		}
	}
	s.phase = p
	approx.Sines(out)
}

func (s *sound) saw(out, frequency []float64) {
	frequency = frequency[:len(out)]
	p, d0, d1 := s.phase, s.d0, s.d1
	for i := range out {
		d2 := s.cycles(frequency[i])
		p1 := p + d1
		if p < 0.5 && p1 >= 0.5 {
			q := path{p, d1, d1 - d0, d2 - d1}
			s.table.Jump(s.line.Window(), 1-q.reach(0.5), -2)
		}
		if p1 >= 1 {
			p1--
		}
		p, d0, d1 = p1, d1, d2
		out[i] = s.line.Put(wave.Saw(p))
	}
	s.phase, s.d0, s.d1 = p, d0, d1
}

func (s *sound) triangle(out, frequency []float64) {
	frequency = frequency[:len(out)]
	p, d0, d1 := s.phase, s.d0, s.d1
	for i := range out {
		d2 := s.cycles(frequency[i])
		p1 := p + d1
		switch {
		case p < 0.25 && p1 >= 0.25:
			s.corner(path{p, d1, d1 - d0, d2 - d1}, 0.25, -8)
		case p < 0.75 && p1 >= 0.75:
			s.corner(path{p, d1, d1 - d0, d2 - d1}, 0.75, 8)
		case p1 >= 1.25:
			s.corner(path{p, d1, d1 - d0, d2 - d1}, 1.25, -8)
		}
		if p1 >= 1 {
			p1--
		}
		p, d0, d1 = p1, d1, d2
		out[i] = s.line.Put(wave.Triangle(p))
	}
	s.phase, s.d0, s.d1 = p, d0, d1
}

// corner mends a corner of the triangle, where its slope changes by turn for
// each cycle of phase.
func (s *sound) corner(q path, x, turn float64) {
	t := q.reach(x)
	s.table.Bend(s.line.Window(), 1-t, float64(turn*q.slope(t)))
	if bend := q.bend(t); bend != 0 {
		s.table.Bow(s.line.Window(), 1-t, float64(turn*bend))
	}
}
