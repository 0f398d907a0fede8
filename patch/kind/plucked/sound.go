package plucked

import (
	"math"

	"lampblack/patch/dsp/bound"
	"lampblack/patch/dsp/loop"
	"lampblack/patch/kind/control"
	"lampblack/patch/module"
)

// lowest is the lowest frequency in Hz.
const lowest = 20

// The inputs and controls, by their place.
const (
	trigger = iota
	in
)

const (
	frequency = iota
	decay
	damping
	position
	hardness
	touch
	velocity
	level
	plucks
)

type sound struct {
	rate  float64
	loop  *loop.Loop
	held  bool // whether the trigger was above 0.5
	hand  hand
	place place
}

func newSound(s module.Setup) module.Sound {
	return &sound{rate: s.Rate, loop: loop.New(s.Rate, lowest), hand: newHand(s), place: newPlace(s.Rate)}
}

// Block plays the string.
func (s *sound) Block(b *module.Block) {
	for _, f := range b.Controls[frequency].V[:b.N] {
		b.Clamped = b.Clamped || f > loop.Highest*s.rate
	}
	for from := 0; from < b.N; {
		if s.loop.Left() == 0 {
			s.loop.Tune(loop.Tuning{
				Hz:      s.hz(b, from),
				T60:     b.Controls[decay].V[from],
				Damping: b.Controls[damping].V[from],
			})
		}
		to := min(from+s.loop.Left(), b.N)
		s.run(b, from, to)
		from = to
	}
}

func (s *sound) hz(b *module.Block, i int) float64 {
	return min(max(b.Controls[frequency].V[i], lowest), loop.Highest*s.rate)
}

// run fills samples from to to, within a segment.
func (s *sound) run(b *module.Block, from, to int) {
	var fed, finger [loop.Segment]float64
	touched := false
	for i := from; i < to; i++ {
		if t := b.In[trigger][i] > 0.5; t != s.held {
			if s.held = t; t {
				s.hand.pluck(s.strength(b, i), s.rate/s.hz(b, i), control.Number(b.Controls[plucks].V[i], 1) == 1)
			}
		}
		x := bound.In(b.In[in][i], &b.Clamped)
		finger[i-from] = 1
		if s.hand.busy() {
			x += s.hand.next(b.Controls[hardness].V[i])
			finger[i-from] = 1 - float64(b.Controls[touch].V[i]*smooth(s.hand.grip))
			touched = true
		}
		if x != 0 || !s.place.silent() {
			x = s.place.put(x, float64(b.Controls[position].V[i]*s.rate)/s.hz(b, i))
		}
		fed[i-from] = x
	}
	out, touches := b.Out[0][from:to], []float64(nil)
	if touched {
		touches = finger[:to-from]
	}
	s.loop.Run(out, fed[:to-from], touches, &b.Clamped)
}

// strength is the level of a pluck.
func (s *sound) strength(b *module.Block, i int) float64 {
	a := control.Gain(b.Controls[level].V[i])
	if !b.Joined[trigger] {
		share := b.Controls[velocity].V[i]
		a = float64(a * (1 - float64(share*(1-b.Played.Velocity[i]))))
	}
	return a
}

// place is where the string is plucked: a wave that starts there runs to both
// ends, and comes back from the nearer one with its sign turned.
type place struct {
	line     []float64
	mask, at int
	quiet    int // for how many samples nothing has come in
}

func newPlace(rate float64) place {
	size := 16
	for float64(size) < float64(rate/lowest/2)+8 {
		size *= 2
	}
	return place{line: make([]float64, size), mask: size - 1}
}

func (p *place) silent() bool { return p.quiet > len(p.line) }

// put lets a sample start at a place whose echo comes after delay samples, and
// returns what runs round. The echo is read between the samples by a cubic
// through four of them (Lagrange's formula), so a delay is at least 1.
func (p *place) put(x, delay float64) float64 {
	if p.quiet++; x != 0 {
		p.quiet = 0
	}
	p.line[p.at] = x
	delay = max(delay, 1)
	whole := math.Floor(delay)
	t := delay - whole
	n := p.at - int(whole)
	x0, x1, x2, x3 := p.line[(n+1)&p.mask], p.line[n&p.mask], p.line[(n-1)&p.mask], p.line[(n-2)&p.mask]
	p.at = (p.at + 1) & p.mask
	a, b, c := float64(t*(t-1)), float64((t+1)*(t-2)), float64((t+1)*t)
	outer := float64(float64(c*(t-1))*x3) - float64(float64(a*(t-2))*x0)
	inner := float64(float64(b*(t-1))*x1) - float64(float64(c*(t-2))*x2)
	echo := outer/6 + float64(inner/2)
	return float64(0.5 * (x - echo))
}
