package engine

import (
	"math"

	"lampblack/patch/module"
)

// vanishing is the size (-600 dB) under which a sample in a loop becomes 0. A loop
// of gain below 1 would otherwise spend seconds on numbers so small that some
// processors need 100 times as long for them.
const vanishing = 1e-30

// looped is what a module in a loop needs besides. It is handed one sample at a
// time, in slices that are cut once and for all: what changes is the number in
// them, for copying a number is much cheaper than cutting a slice.
type looped struct {
	in, out, value []float64 // one sample of every input, output and control
	moved          []int     // numbers of the controls that may change within the block
}

// newLooped cuts the slices of b to the one sample that stands in the result.
func newLooped(b *module.Block) *looped {
	l := &looped{
		in:    make([]float64, len(b.In)),
		out:   make([]float64, len(b.Out)),
		value: make([]float64, len(b.Controls)),
		moved: make([]int, 0, len(b.Controls)),
	}
	b.N = 1
	for k := range b.In {
		b.In[k] = l.in[k : k+1 : k+1]
	}
	for k := range b.Out {
		b.Out[k] = l.out[k : k+1 : k+1]
	}
	for k := range b.Controls {
		b.Controls[k].V = l.value[k : k+1 : k+1]
	}
	return l
}

// runLoop computes n samples of the modules of a loop, sample by sample.
func (p *part) runLoop(nodes []node, n int) {
	for k := range nodes {
		nodes[k].beginLoop()
	}
	for i := range n {
		samplePlayed(&p.one, p.note, i)
		for k := range nodes {
			nodes[k].runSample(i)
		}
	}
	for k := range nodes {
		nodes[k].publish()
	}
}

// beginLoop computes what stands still during the block.
func (m *node) beginLoop() {
	m.loop.moved = m.loop.moved[:0]
	for k := range m.controls {
		c := &m.controls[k]
		m.block.Controls[k].Scale = c.scale
		m.block.Controls[k].Steady = !c.moves() || c.now.stepped
		if c.moves() {
			m.loop.moved = append(m.loop.moved, k)
			continue
		}
		c.stand()
		m.loop.value[k] = c.setting
	}
}

// runSample computes sample i of the block.
func (m *node) runSample(i int) {
	l := m.loop
	for k := range m.ins {
		in := &m.ins[k]
		if in.sources != nil {
			in.add(i)
		}
		l.in[k] = in.samples[i]
	}
	for _, k := range l.moved {
		c := &m.controls[k]
		c.run(i, i+1)
		l.value[k] = c.v[i]
	}
	m.sound.Block(&m.block)
	for k, x := range l.out {
		if a := math.Abs(x); !(a >= vanishing && a <= MaxSignal) {
			x = m.hold(x, a)
		}
		m.outs[k][i+1] = x
	}
}

// hold is limit for one sample x of size a, and makes what has vanished 0.
func (m *node) hold(x, a float64) float64 {
	if a < vanishing {
		return 0
	}
	m.block.Clamped = true
	if !(a <= math.MaxFloat64) {
		return 0
	}
	return math.Copysign(MaxSignal, x)
}

// add sums sample i of the sources.
func (in *inlet) add(i int) {
	sum := in.sources[0][i]
	for _, s := range in.sources[1:] {
		sum += s[i]
	}
	in.samples[i] = sum
}
