package slow

import (
	"lampblack/patch/dsp/approx"
	"lampblack/patch/dsp/gate"
	"lampblack/patch/dsp/wave"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// The shapes, in the order of the control's choices.
const (
	sine = iota
	triangle
	saw
	pulse
	slope
)

// What a note does, in the order of the control's choices.
const (
	runsOn = iota
	restarts
	once
)

// before is a phase next to the end of a cycle: where saw and pulse have not
// jumped yet.
const before = 1 - 1e-15

type sound struct {
	rate    float64   // samples a second
	inverse float64   // 1 / rate
	phase   float64   // 0 <= phase < 1, in cycles, without the control's share
	risen   float64   // how much of the fade-in is done, 0 to 1
	resting bool      // whether the one cycle is over, or has not begun
	restart gate.Edge // of the inputs
	note    gate.Edge
}

func newSound(s module.Setup) module.Sound {
	return &sound{rate: s.Rate, inverse: 1 / s.Rate, resting: true}
}

// Block runs the cycle on, from one event to the next.
func (s *sound) Block(b *module.Block) {
	restart, note := b.In[0][:b.N], b.In[1][:b.N]
	for i := 0; i < b.N; {
		form := control.Number(b.Controls[1].V[i], slope)
		run := control.Number(b.Controls[5].V[i], once)
		s.follow(s.restart.Rises(restart[i]), s.note.Rises(note[i]), run)
		j := min(i+s.undisturbed(restart[i:], note[i:]), alike(&b.Controls[1], i, b.N, slope), alike(&b.Controls[5], i, b.N, once))
		i += s.stretch(b, i, j, form, run == once)
	}
}

// undisturbed returns for how many samples, from the one just followed on,
// neither input changes.
func (s *sound) undisturbed(restart, note []float64) int {
	note = note[:len(restart)]
	for i, x := range restart {
		if gate.Up(x) != bool(s.restart) || gate.Up(note[i]) != bool(s.note) {
			return i
		}
	}
	return len(restart)
}

// alike returns up to which sample, from i on, a stepped control stays the same.
func alike(c *module.Control, i, n, most int) int {
	if c.Steady {
		return n
	}
	number := control.Number(c.V[i], most)
	for i++; i < n && control.Number(c.V[i], most) == number; i++ {
	}
	return i
}

// follow begins what the inputs ask for.
func (s *sound) follow(again, struck bool, run int) {
	if run != once {
		s.resting = false
	}
	if !again && !struck {
		return
	}
	s.risen = 0
	if again || run != runsOn {
		s.phase, s.resting = 0, false
	}
}

// stretch fills samples i to j of the block, or fewer if a single cycle ends
// before, and returns how many.
func (s *sound) stretch(b *module.Block, i, j int, form int, single bool) int {
	out, rate, shift := b.Out[0][i:j], b.Controls[0].V[i:j], b.Controls[3].V[i:j]
	if s.resting {
		s.rest(out, shift, form)
	} else {
		out = out[:s.phases(out, rate, shift, single)]
	}
	draw(form, out, b.Controls[2].V[i:j])
	if s.risen < 1 {
		s.fade(out, b.Controls[4].V[i:j])
	}
	return len(out)
}

// phases fills in where in the cycle every sample stands, and returns how many
// there are until a single cycle ends.
func (s *sound) phases(out, rate, shift []float64, single bool) int {
	rate, shift = rate[:len(out)], shift[:len(out)]
	phase := s.phase
	for i := range out {
		p := phase + float64(shift[i]*(1.0/360))
		if p >= 1 {
			p--
		}
		out[i] = p
		if phase += float64(rate[i] * s.inverse); phase < 1 {
			continue
		}
		phase--
		if single {
			s.phase, s.resting = 0, true
			return i + 1
		}
	}
	s.phase = phase
	return len(out)
}

// rest is phases after a single cycle: at its end, which for what jumps there is
// just before.
func (s *sound) rest(out, shift []float64, form int) {
	for i := range out {
		p := float64(shift[i] * (1.0 / 360))
		if p >= 1 {
			p--
		}
		if form == saw || form == pulse {
			if p -= 1 - before; p < 0 {
				p = before
			}
		}
		out[i] = p
	}
}

// fade narrows the swing while the fade-in is not done.
func (s *sound) fade(out, time []float64) {
	for i := range out {
		samples := float64(time[i] * s.rate)
		if s.risen >= 1 || samples < 1 {
			s.risen = 1
			return
		}
		out[i] = float64(out[i] * s.risen)
		s.risen += 1 / samples
	}
}

// draw replaces every phase, 0 to 1 cycles, by the shape's value there.
func draw(shape int, p, width []float64) {
	width = width[:len(p)]
	switch shape {
	case sine:
		approx.Sines(p)
	case triangle:
		for i, x := range p {
			p[i] = wave.Triangle(x)
		}
	case saw:
		for i, x := range p {
			p[i] = wave.Saw(x)
		}
	case pulse:
		for i, x := range p {
			p[i] = wave.Pulse(x, width[i])
		}
	default:
		for i, x := range p {
			p[i] = sloping(x, width[i])
		}
	}
}

// sloping rises through 0 at phase 0, up for width of the cycle and down for the
// rest.
func sloping(p, width float64) float64 {
	half := float64(width * 0.5)
	switch {
	case p < half:
		return p / half
	case p <= 1-half:
		return 1 - float64(2*(p-half))/(1-width)
	}
	return (p - 1) / half
}
