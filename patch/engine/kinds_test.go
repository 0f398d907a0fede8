package engine

import (
	"math"
	"testing"

	"lampblack/patch"
	"lampblack/patch/memory"
	"lampblack/patch/module"
)

// The kinds below do as little as possible, so that what a test sees is the
// engine's doing.

// soundFunc makes a stateless Sound of a function.
type soundFunc func(*module.Block)

func (f soundFunc) Block(b *module.Block) { f(b) }

func stateless(f soundFunc) func(module.Setup) module.Sound {
	return func(module.Setup) module.Sound { return f }
}

// set is a catalogue for tests.
type set map[string]*module.Kind

func (s set) Module(name string) (*module.Kind, bool) { k, ok := s[name]; return k, ok }

func (s set) Kind(name string) (*patch.Kind, bool) {
	k, ok := s[name]
	if !ok {
		return nil, false
	}
	return &k.Kind, true
}

func in(names ...string) (list []patch.Input) {
	for _, n := range names {
		list = append(list, patch.Input{Name: n})
	}
	return list
}

func out(names ...string) (list []patch.Output) {
	for _, n := range names {
		list = append(list, patch.Output{Name: n})
	}
	return list
}

var everyMove = []patch.Move{patch.Octaves, patch.Decibels, patch.Factor, {Unit: "", Kind: patch.MoveLinear, Max: 1e6}}

// testKinds are all kinds that tests here use.
var testKinds = set{
	"output": {
		Kind: patch.Kind{Name: "output", Inputs: []patch.Input{{Name: "left"}, {Name: "right", Open: patch.OpenLeft}}, Outputs: out("left", "right")},
		New: stateless(func(b *module.Block) {
			copy(b.Out[0], b.In[0])
			copy(b.Out[1], b.In[1])
		}),
	},
	"value": { // puts out what its control stands at
		Kind: patch.Kind{Name: "value", Outputs: out("out", "steady"), Controls: []patch.Control{{
			Name: "value",
			Scales: []patch.Scale{
				{Unit: "", Min: -1e6, Max: 1e6, Moves: everyMove},
				{Unit: "Hz", Min: 1, Max: 20000, Default: 440, Taper: patch.Logarithmic, Moves: []patch.Move{patch.Octaves, patch.Decibels, patch.Factor, {Unit: "Hz", Kind: patch.MoveLinear, Max: 1e5}}},
				{Unit: "dB", Min: -96, Max: 24, Moves: []patch.Move{patch.Factor, patch.Decibels}},
				{Unit: "%", Min: 0, Max: 100, Moves: []patch.Move{{Unit: "%", Kind: patch.MoveLinear, Max: 100}}},
			},
		}}},
		New: stateless(func(b *module.Block) {
			copy(b.Out[0], b.Controls[0].V)
			steady := 0.0
			if b.Controls[0].Steady {
				steady = 1
			}
			fill(b.Out[1], steady)
		}),
	},
	"choice": {
		Kind: patch.Kind{Name: "choice", Outputs: out("out"), Controls: []patch.Control{{
			Name: "choice", Scales: []patch.Scale{{Max: 3, Taper: patch.Stepped, Choices: []string{"a", "b", "c", "d"}, Moves: []patch.Move{{Unit: "steps", Kind: patch.MoveLinear, Max: 3}}}},
		}}},
		New: stateless(func(b *module.Block) { fill(b.Out[0], b.Controls[0].V[0]) }), // as a Sound may that takes a choice as standing still
	},
	"sum": {
		Kind: patch.Kind{Name: "sum", Inputs: in("a", "b"), Outputs: out("out")},
		New: stateless(func(b *module.Block) {
			for i := range b.N {
				b.Out[0][i] = b.In[0][i] + b.In[1][i]
			}
		}),
	},
	"double": {
		Kind: patch.Kind{Name: "double", Inputs: in("in"), Outputs: out("out")},
		New: stateless(func(b *module.Block) {
			for i, x := range b.In[0][:b.N] {
				b.Out[0][i] = 2 * x
			}
		}),
	},
	"half": {
		Kind: patch.Kind{Name: "half", Inputs: in("in"), Outputs: out("out")},
		New: stateless(func(b *module.Block) {
			for i, x := range b.In[0][:b.N] {
				b.Out[0][i] = x / 2
			}
		}),
	},
	"level": {
		Kind: patch.Kind{Name: "level", Inputs: in("in"), Outputs: out("out"), Controls: []patch.Control{{
			Name: "level", Scales: []patch.Scale{{Unit: "dB", Min: -96, Max: 24, Moves: []patch.Move{patch.Factor, patch.Decibels}}},
		}}},
		New: stateless(func(b *module.Block) {
			for i, x := range b.In[0][:b.N] {
				b.Out[0][i] = x * b.Controls[0].V[i]
			}
		}),
	},
	"impulse":  {Kind: patch.Kind{Name: "impulse", Outputs: out("out")}, New: func(module.Setup) module.Sound { return &impulse{} }},
	"count":    {Kind: patch.Kind{Name: "count", Outputs: out("out")}, New: func(module.Setup) module.Sound { return &count{} }},
	"restless": {Kind: patch.Kind{Name: "restless", Outputs: out("out")}, New: newSine(1000)},
	"forgets":  {Kind: patch.Kind{Name: "forgets", Outputs: out("out")}, New: func(module.Setup) module.Sound { return &forgets{} }},
	"delay":    {Kind: patch.Kind{Name: "delay", Inputs: in("in"), Outputs: out("out")}, New: func(module.Setup) module.Sound { return &delay{} }},
	"broken":   {Kind: patch.Kind{Name: "broken", Inputs: in("in"), Outputs: out("out")}, New: func(module.Setup) module.Sound { return &broken{} }},
	"note": {
		Kind: patch.Kind{Name: "note", Outputs: out("pitch", "gate", "trigger", "velocity")},
		New: stateless(func(b *module.Block) {
			copy(b.Out[0], b.Played.Pitch)
			copy(b.Out[1], b.Played.Gate)
			copy(b.Out[2], b.Played.Trigger)
			copy(b.Out[3], b.Played.Velocity)
		}),
	},
	"open": { // puts out what its open inputs hear
		Kind: patch.Kind{Name: "open", Inputs: []patch.Input{{Name: "gate", Open: patch.OpenGate}, {Name: "trigger", Open: patch.OpenTrigger}}, Outputs: out("gate", "trigger")},
		New: stateless(func(b *module.Block) {
			copy(b.Out[0], b.In[0])
			copy(b.Out[1], b.In[1])
		}),
	},
}

type impulse struct{ done bool }

func (s *impulse) Block(b *module.Block) {
	clear(b.Out[0])
	if !s.done {
		b.Out[0][0] = 1
		s.done = true
	}
}

// broken puts out NaN, infinity and 1e300 in turn.
type broken struct{ n int }

func (s *broken) Block(b *module.Block) {
	for i := range b.N {
		b.Out[0][i] = [3]float64{math.NaN(), math.Inf(1), 1e300}[s.n%3]
		s.n++
	}
}

type count struct{ n float64 }

func (s *count) Block(b *module.Block) {
	for i := range b.N {
		b.Out[0][i] = s.n
		s.n++
	}
}

func (s *count) Resume(from module.Sound) { *s = *from.(*count) }

// forgets counts as count does, but cannot go on where another stands.
type forgets struct{ n float64 }

func (s *forgets) Block(b *module.Block) {
	for i := range b.N {
		b.Out[0][i] = s.n
		s.n++
	}
}

type delay struct{ last float64 }

func (s *delay) Block(b *module.Block) {
	for i, x := range b.In[0][:b.N] {
		b.Out[0][i], s.last = s.last, x
	}
}

// sine is a plain sine of amplitude 1.
type sine struct{ phase, step float64 }

func newSine(hz float64) func(module.Setup) module.Sound {
	return func(s module.Setup) module.Sound { return &sine{step: hz / s.Rate} }
}

func (s *sine) Block(b *module.Block) {
	for i := range b.N {
		b.Out[0][i] = math.Sin(2 * math.Pi * s.phase)
		_, s.phase = math.Modf(s.phase + s.step)
	}
}

func (s *sine) Resume(from module.Sound) { *s = *from.(*sine) }

// build makes a patch of modules ("name:kind") and cords ("from/out>to/in" or,
// with a depth, "from/out>to/in=0.5 oct").
type cord struct {
	from, out, to, in string
	depth             patch.Setting
}

func build(modules []string, cords ...cord) patch.Patch {
	var p patch.Patch
	for i := 0; i < len(modules); i += 2 {
		p.Modules = append(p.Modules, patch.Module{Name: modules[i], Kind: modules[i+1]})
	}
	for _, c := range cords {
		p.Cords = append(p.Cords, patch.Cord{From: patch.Socket{Module: c.from, Name: c.out}, To: patch.Socket{Module: c.to, Name: c.in}, Depth: c.depth})
	}
	return p
}

// setting stands a control of a module at a value.
func setting(p patch.Patch, module, control string, value float64, unit string) patch.Patch {
	m := p.Module(module)
	if m.Settings == nil {
		m.Settings = map[string]patch.Setting{}
	}
	m.Settings[control] = patch.Setting{Value: value, Unit: unit}
	return p
}

const testRate = 48000

// compile compiles p with the kinds of these tests.
func compile(t testing.TB, p patch.Patch) *Graph {
	t.Helper()
	g, err := Compile(p, Settings{Rate: testRate, Kinds: testKinds})
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// sounding returns an engine in which p sounds.
func sounding(t testing.TB, p patch.Patch) *Engine {
	t.Helper()
	e := New(testRate)
	e.Swap(compile(t, p))
	return e
}

// hear returns the next n samples of both sides, computed in blocks of size.
func hear(e *Engine, n, size int) (left, right []float64) {
	left, right = make([]float64, n), make([]float64, n)
	for at := 0; at < n; at += size {
		end := min(at+size, n)
		e.Block(left[at:end], right[at:end])
	}
	return left, right
}

// heard returns the first n samples of p's left side.
func heard(t testing.TB, p patch.Patch, n int) []float64 {
	t.Helper()
	left, _ := hear(sounding(t, p), n, 64)
	return left
}

// differ returns the first sample at which a and b differ in any bit, or -1.
func differ(a, b []float64) int {
	if len(a) != len(b) {
		return min(len(a), len(b))
	}
	for i := range a {
		if math.Float64bits(a[i]) != math.Float64bits(b[i]) {
			return i
		}
	}
	return -1
}

var noMemory memory.Memory
