package engine

import (
	"sync/atomic"

	"lampblack/patch"
	"lampblack/patch/module"
)

// OutputKind is the name of the kind of module that is heard: its outputs (its
// inputs, if it has no outputs) are the left and the right side.
const OutputKind = "output"

// MaxSignal bounds what a module may put out: 120 dB over full scale. A loop of
// gain above 1 ends here instead of in infinity; the module counts as clamped.
const MaxSignal = 1e6

// Graph is a compiled patch with all the memory that it needs. It is made by
// Compile and sounds once, in the Engine that it is swapped into.
type Graph struct {
	rate    float64
	nodes   []node // in running order
	steps   []step
	silence []float64
	note    module.Played // module.MaxBlock samples, filled by the engine
	played  module.Played // the samples of this block
	one     module.Played // the sample at which a loop stands, one long
	late    [][]float64   // outputs that a cord reads one sample late
	n       int           // samples of the block before
	heard   [][2][]float64
	stereo  bool

	edits atomic.Uint64 // counts wishes for controls and depths
	done  uint64        // edits that the sound side has seen

	used   bool
	byName map[string]int // desk only
	pairs  []pair         // modules that go on from the graph before
	routes atomic.Pointer[[]route]
}

// step is a run of nodes: one module on its own, or the modules of a loop.
type step struct {
	first, last int
	loop        bool
}

// node is one module as it runs.
type node struct {
	name     string
	kind     *module.Kind
	seed     uint64
	clip     *module.Clip
	sound    module.Sound
	resumer  module.Resumer // sound, or nil: asking a Sound whether it is one may allocate
	block    module.Block
	ins      []inlet
	outs     [][]float64 // module.MaxBlock+1 samples: the last of the block before, then this block's
	heeded   []int       // numbers of the outputs that a cord reads
	controls []control
	parts    *parts  // what a module needs besides whose stepped controls are moved by cords, or nil
	loop     *looped // what a module in a loop needs besides, or nil
	clamped  atomic.Bool
}

// inlet is what an input reads.
type inlet struct {
	samples []float64   // module.MaxBlock samples; those of the source itself if there is one only
	sources [][]float64 // to be added up into samples; nil if there is nothing to add
}

func emptyGraph(rate int) *Graph {
	g := &Graph{rate: float64(rate)}
	b := make([]float64, 5*module.MaxBlock)
	g.silence, b = b[:module.MaxBlock], b[module.MaxBlock:]
	for _, p := range []*[]float64{&g.note.Pitch, &g.note.Gate, &g.note.Trigger, &g.note.Velocity} {
		*p, b = b[:module.MaxBlock], b[module.MaxBlock:]
	}
	g.setLength(module.MaxBlock)
	return g
}

// Stereo reports whether anything is joined to the right side of an output.
func (g *Graph) Stereo() bool { return g.stereo }

// setLength cuts every slice that modules see to n samples.
func (g *Graph) setLength(n int) {
	g.n = n
	g.played.Pitch = g.note.Pitch[:n]
	g.played.Gate = g.note.Gate[:n]
	g.played.Trigger = g.note.Trigger[:n]
	g.played.Velocity = g.note.Velocity[:n]
	for i := range g.nodes {
		if g.nodes[i].loop != nil {
			continue // its slices are one sample long, always
		}
		b := &g.nodes[i].block
		b.N = n
		for k := range b.In {
			b.In[k] = g.nodes[i].ins[k].samples[:n]
		}
		for k := range b.Out {
			b.Out[k] = g.nodes[i].outs[k][1 : 1+n]
		}
		for k := range b.Controls {
			b.Controls[k].V = g.nodes[i].controls[k].v[:n]
		}
	}
}

// run computes n samples of every module.
func (g *Graph) run(n int) {
	for _, out := range g.late {
		out[0] = out[g.n]
	}
	if n != g.n {
		g.setLength(n)
	}
	for _, s := range g.steps {
		if s.loop {
			g.runLoop(g.nodes[s.first:s.last], n)
		} else {
			g.nodes[s.first].run(n)
		}
	}
}

// run computes n samples of a module outside any loop.
func (m *node) run(n int) {
	for k := range m.ins {
		if in := &m.ins[k]; in.sources != nil {
			add(in.samples[:n], in.sources)
		}
	}
	for k := range m.controls {
		c := &m.controls[k]
		c.run(0, n)
		m.block.Controls[k].Steady = c.steady
		m.block.Controls[k].Scale = c.scale
	}
	if m.parts != nil {
		m.runParts(n)
	} else {
		m.sound.Block(&m.block)
	}
	for _, k := range m.heeded {
		if out := m.block.Out[k]; beyond(out, MaxSignal) {
			limit(out, MaxSignal)
			m.block.Clamped = true
		}
	}
	m.publish()
}

// publish tells the desk what became of the block.
func (m *node) publish() {
	if m.block.Clamped {
		m.clamped.Store(true)
		m.block.Clamped = false
	}
	for k := range m.controls {
		m.controls[k].publish()
	}
}

// add sets dst to the sum of sources, of which there are at least two, in order.
func add(dst []float64, sources [][]float64) {
	a, b := sources[0][:len(dst)], sources[1][:len(dst)]
	for i := range dst {
		dst[i] = a[i] + b[i]
	}
	for _, s := range sources[2:] {
		s = s[:len(dst)]
		for i := range dst {
			dst[i] += s[i]
		}
	}
}

// output sets left and right to the sum of all that is heard.
func (g *Graph) output(left, right []float64) {
	if len(g.heard) == 0 {
		clear(left)
		clear(right)
		return
	}
	copy(left, g.heard[0][0])
	copy(right, g.heard[0][1])
	for _, h := range g.heard[1:] {
		l, r := h[0][:len(left)], h[1][:len(right)]
		for i := range left {
			left[i] += l[i]
			right[i] += r[i]
		}
	}
}

// hear gives g the same played note as other.
func (g *Graph) hear(other *Graph) {
	copy(g.note.Pitch, other.note.Pitch)
	copy(g.note.Gate, other.note.Gate)
	copy(g.note.Trigger, other.note.Trigger)
	copy(g.note.Velocity, other.note.Velocity)
}

// control returns a control of a module and its words, or nil; desk side.
func (g *Graph) control(module, name string) (*control, *patch.Control) {
	at, ok := g.byName[module]
	if !ok {
		return nil, nil
	}
	n := &g.nodes[at]
	for i := range n.controls {
		if n.kind.Controls[i].Name == name {
			return &n.controls[i], &n.kind.Controls[i]
		}
	}
	return nil, nil
}
