// Package rig runs one module by itself, for tests and benchmarks.
//
//	settings, movements, inputs -> Rig -> the samples of every output
//
// It stands in for the engine: what is set in dB or % arrives converted, inputs
// without a feed hear what their kind says, and a note of pitch 0 is held from
// the first sample on unless Note says otherwise. It knows no patch.
package rig

import (
	"fmt"
	"math"

	"lampblack/patch"
	"lampblack/patch/module"
)

// Wave is a movement or a signal: its value at sample n.
type Wave func(n int) float64

// Rig is a module on the test bench.
type Rig struct {
	Kind    *module.Kind
	Setup   module.Setup
	Sound   module.Sound
	Clamped bool // whether the module has ever said so

	// Restless says of every control that it may be moving, even if it stands
	// still, so that a module takes its slow path.
	Restless bool

	at     int // samples run
	gate   Wave
	pitch  Wave // nil: 0
	struck Wave // nil: 1
	feeds  []Wave
	steady []float64
	scales []int
	moves  []Wave
	block  module.Block
}

// New puts a module of kind k, at its defaults, on the bench at 48 kHz, with
// seed 1.
func New(k *module.Kind) *Rig { return NewSetup(k, module.Setup{Rate: 48000, Seed: 1}) }

// NewSetup is New with a rate, a seed and a recording.
func NewSetup(k *module.Kind, s module.Setup) *Rig {
	r := &Rig{
		Kind: k, Setup: s, Sound: k.New(s),
		gate:   func(int) float64 { return 1 },
		feeds:  make([]Wave, len(k.Inputs)),
		steady: make([]float64, len(k.Controls)),
		scales: make([]int, len(k.Controls)),
		moves:  make([]Wave, len(k.Controls)),
	}
	for i, c := range k.Controls {
		r.steady[i] = Arrives(c.Scales[0].Default, c.Scales[0].Unit)
	}
	r.wire()
	return r
}

// wire makes the block and all of its slices.
func (r *Rig) wire() {
	buffer := func() []float64 { return make([]float64, module.MaxBlock) }
	b := &r.block
	for range r.Kind.Inputs {
		b.In = append(b.In, buffer())
		b.Joined = append(b.Joined, false)
	}
	for range r.Kind.Outputs {
		b.Out = append(b.Out, buffer())
	}
	for range r.Kind.Controls {
		b.Controls = append(b.Controls, module.Control{V: buffer()})
	}
	velocity := buffer()
	b.Played = &module.Played{Pitch: buffer(), Gate: buffer(), Trigger: buffer(), Velocity: velocity, Eased: velocity, Before: buffer()}
}

// Arrives is what a module gets for a value written in a unit.
func Arrives(value float64, unit string) float64 {
	switch unit {
	case "dB":
		return math.Pow(10, value/20)
	case "%":
		return value / 100
	}
	return value
}

// Set sets a control, in one of its units ("" for a number or a choice).
func (r *Rig) Set(name string, value float64, unit string) *Rig {
	i, s := r.control(name, unit)
	r.steady[i], r.scales[i], r.moves[i] = Arrives(value, unit), s, nil
	return r
}

// Choose sets a control that is one of several words.
func (r *Rig) Choose(name, word string) *Rig {
	for n, w := range r.Kind.Control(name).Scales[0].Choices {
		if w == word {
			return r.Set(name, float64(n), "")
		}
	}
	panic(fmt.Sprintf("rig: %s / %s has no choice %q", r.Kind.Name, name, word))
}

// Move moves a control with every sample: w is in unit.
func (r *Rig) Move(name, unit string, w Wave) *Rig {
	i, s := r.control(name, unit)
	r.scales[i] = s
	r.moves[i] = func(n int) float64 { return Arrives(w(n), unit) }
	return r
}

// MoveRaw moves a control with values as they arrive at the module; unit only
// chooses the scale.
func (r *Rig) MoveRaw(name, unit string, w Wave) *Rig {
	i, s := r.control(name, unit)
	r.scales[i], r.moves[i] = s, w
	return r
}

func (r *Rig) control(name, unit string) (control, scale int) {
	for i, c := range r.Kind.Controls {
		if c.Name == name {
			if s := c.Scale(unit); s >= 0 {
				return i, s
			}
		}
	}
	panic(fmt.Sprintf("rig: %s has no control %q in %q", r.Kind.Name, name, unit))
}

// Feed joins a signal to an input.
func (r *Rig) Feed(name string, w Wave) *Rig {
	i := r.Kind.Input(name)
	r.feeds[i] = w
	r.block.Joined[i] = true
	return r
}

// Note holds the gate from sample on to sample off (not included).
func (r *Rig) Note(on, off int) *Rig {
	r.gate = func(n int) float64 {
		if n >= on && n < off {
			return 1
		}
		return 0
	}
	return r
}

// Played sets what is played: the pitch in octaves from A4 (the pitch of the note
// before is taken to be that of the sample before), and the velocity, 0 to 1.
func (r *Rig) Played(pitch, velocity Wave) *Rig {
	r.pitch, r.struck = pitch, velocity
	return r
}

// Run runs n samples, in blocks of the given lengths in turn (64 when none is
// given), and returns the samples of every output.
func (r *Rig) Run(n int, blocks ...int) [][]float64 {
	if len(blocks) == 0 {
		blocks = []int{module.MaxBlock}
	}
	out := make([][]float64, len(r.block.Out))
	for i := range out {
		out[i] = make([]float64, 0, n)
	}
	for done, k := 0, 0; done < n; k++ {
		b := r.Fill(r.cut(min(blocks[k%len(blocks)], n-done)))
		r.Sound.Block(b)
		r.Clamped = r.Clamped || b.Clamped
		for i := range out {
			out[i] = append(out[i], b.Out[i][:b.N]...)
		}
		done += b.N
	}
	return out
}

// cut returns how many of the next n samples come before a stepped control
// changes: no block goes over such a place.
func (r *Rig) cut(n int) int {
	for i := range r.Kind.Controls {
		if r.moves[i] == nil || !r.stepped(i) {
			continue
		}
		first := r.value(i, r.at)
		for k := 1; k < n; k++ {
			if r.value(i, r.at+k) != first {
				n = k
			}
		}
	}
	return n
}

func (r *Rig) stepped(i int) bool {
	return r.Kind.Controls[i].Scales[r.scales[i]].Taper == patch.Stepped
}

// value is what control i stands at in sample n.
func (r *Rig) value(i, n int) float64 {
	switch {
	case r.moves[i] == nil:
		return r.steady[i]
	case r.stepped(i):
		return math.Floor(r.moves[i](n) + 0.5)
	}
	return r.moves[i](n)
}

// Out runs n samples and returns one output.
func (r *Rig) Out(name string, n int, blocks ...int) []float64 {
	return r.Run(n, blocks...)[r.Kind.Output(name)]
}

// Fill prepares the next n samples' block and goes on behind them. It does not
// cut the block where a stepped control changes; Run does.
func (r *Rig) Fill(n int) *module.Block {
	b := &r.block
	b.N, b.Clamped = n, false
	r.play(b.Played, n)
	for i := range b.In {
		r.fillInput(i, b.In[i][:n])
	}
	for i := range b.Controls {
		c := &b.Controls[i]
		c.Scale = r.scales[i]
		c.Steady = r.moves[i] == nil && !r.Restless || r.stepped(i)
		for k := range n {
			c.V[k] = r.value(i, r.at+k)
		}
	}
	r.at += n
	return b
}

func (r *Rig) play(p *module.Played, n int) {
	for k := range n {
		at := r.at + k
		p.Gate[k], p.Velocity[k], p.Pitch[k], p.Trigger[k] = r.gate(at), 1, 0, 0
		if p.Gate[k] == 1 && (at == 0 || r.gate(at-1) == 0) {
			p.Trigger[k] = 1
		}
		if r.pitch != nil {
			p.Pitch[k], p.Before[k], p.Velocity[k] = r.pitch(at), r.pitch(max(at-1, 0)), r.struck(at)
		}
	}
}

func (r *Rig) fillInput(i int, in []float64) {
	if feed := r.feeds[i]; feed != nil {
		for k := range in {
			in[k] = feed(r.at + k)
		}
		return
	}
	switch r.Kind.Inputs[i].Open {
	case patch.OpenGate:
		copy(in, r.block.Played.Gate)
	case patch.OpenTrigger:
		copy(in, r.block.Played.Trigger)
	case patch.OpenLeft:
		copy(in, r.block.In[0])
	default:
		clear(in)
	}
}
