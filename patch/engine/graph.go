package engine

import (
	"sync/atomic"

	"lampblack/patch"
	"lampblack/patch/dsp/lanes"
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
	voices  Voices
	nodes   []node // by part, in running order
	parts   []part // what the voices hear in common, every voice, what hears the voices in common
	silence []float64
	notes   []module.Played // one for each place, module.MaxBlock samples, filled by the engine
	heard   [][2][]float64
	stereo  bool
	n       int // samples of the block before

	edits atomic.Uint64 // counts wishes for controls and depths
	done  uint64        // edits that the sound side has seen

	used   bool
	byName map[string]instances // desk only
	pairs  []pair               // modules that go on from the graph before
	routes atomic.Pointer[[]route]
}

// instances says which nodes are one module: one, or one for every voice.
type instances struct{ first, step, count int }

// of returns the number of the node that is the module in a voice.
func (c instances) of(voice int) int { return c.first + c.step*min(voice, c.count-1) }

// node is one module as it runs.
type node struct {
	name     string
	number   int // of the module in the patch
	voice    int // 0 for what is there once
	part     *part
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
	awake    []int   // numbers of the controls that may change, or have a value that is not in their samples yet
	parts    *parts  // what a module needs besides whose stepped controls are moved by cords, or nil
	loop     *looped // what a module in a loop needs besides, or nil
	clamped  atomic.Bool
	again    atomic.Bool // the desk wants all swept ranges to begin again
}

// inlet is what an input reads.
type inlet struct {
	samples []float64   // module.MaxBlock samples; those of the source itself if there is one only
	sources [][]float64 // to be added up into samples; nil if there is nothing to add
}

// emptyGraph returns a graph that is silent and leaves the notes where they are.
func emptyGraph(rate int, v Voices) *Graph {
	g := &Graph{rate: float64(rate), voices: v, n: module.MaxBlock, silence: make([]float64, module.MaxBlock)}
	g.makeNotes()
	return g
}

func (g *Graph) makeNotes() {
	g.notes = make([]module.Played, g.voices.notes())
	for i := range g.notes {
		g.notes[i] = newPlayed(module.MaxBlock)
	}
}

// Stereo reports whether anything is joined to the right side of an output.
func (g *Graph) Stereo() bool { return g.stereo }

// Voices tells how the patch sounds several notes at once.
func (g *Graph) Voices() Voices { return g.voices }

// run computes n samples of every module.
func (g *Graph) run(n int) {
	for i := range g.parts {
		g.parts[i].run(n)
	}
	g.n = n
}

// run computes n samples of a module outside any loop.
func (m *node) run(n int) {
	for k := range m.ins {
		if in := &m.ins[k]; in.sources != nil {
			add(in.samples[:n], in.sources)
		}
	}
	for _, k := range m.awake {
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

// publish tells the desk what became of the block, and lets controls that have come
// to rest sleep: a module has many, and few of them move.
func (m *node) publish() {
	if m.block.Clamped {
		m.clamped.Store(true)
		m.block.Clamped = false
	}
	if m.again.Load() {
		m.again.Store(false)
		for k := range m.controls {
			m.controls[k].again()
		}
	}
	awake := m.awake[:0]
	for _, k := range m.awake {
		c := &m.controls[k]
		c.swept.publish()
		if m.loop != nil || c.moves() || !c.filled {
			awake = append(awake, k)
		}
	}
	m.awake = awake
}

// wake lets every control of the module run in the next block.
func (m *node) wake() {
	m.awake = m.awake[:0]
	for k := range m.controls {
		m.awake = append(m.awake, k)
	}
}

// add sets dst to the sum of sources, of which there are at least two, in order.
func add(dst []float64, sources [][]float64) {
	lanes.Add(dst, sources[0], sources[1])
	for _, s := range sources[2:] {
		lanes.Add(dst, dst, s)
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
		lanes.Add(left, left, h[0])
		lanes.Add(right, right, h[1])
	}
}

// hear gives g the n samples of the notes that other hears. A note whose place is
// there no more stays as it is.
func (g *Graph) hear(other *Graph, n int) {
	for i := range g.notes {
		if i < len(other.notes) {
			copyPlayed(&g.notes[i], 0, &other.notes[i], 0, n)
		} else {
			holdPlayed(&g.notes[i], g.n-1)
		}
	}
}

// each calls f for every copy of a control of a module, that of voice 0 first,
// with its words; desk side. It reports whether there is such a control.
func (g *Graph) each(module, name string, f func(*control, *patch.Control)) bool {
	at, ok := g.byName[module]
	if !ok {
		return false
	}
	spec := &g.nodes[at.first].kind.Controls
	for i := range *spec {
		if (*spec)[i].Name != name {
			continue
		}
		for v := range at.count {
			f(&g.nodes[at.of(v)].controls[i], &(*spec)[i])
		}
		return true
	}
	return false
}

// control returns a control of a module, in voice 0, and its words, or nil; desk
// side.
func (g *Graph) control(module, name string) (first *control, words *patch.Control) {
	g.each(module, name, func(c *control, spec *patch.Control) {
		if first == nil {
			first, words = c, spec
		}
	})
	return first, words
}
