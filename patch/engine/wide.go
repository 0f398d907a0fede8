package engine

import (
	"sync"
	"sync/atomic"

	"lampblack/patch/module"
)

// wideSamples is how many samples the voices compute between two meetings, where
// they are computed side by side: enough that meeting costs nothing, few enough
// that what passes between the parts stays in a cache.
const wideSamples = 1024

// passing names what passes from one part to another.
type passing struct {
	samples  *float64
	from, to *part
}

// passage carries the samples of an output over to a part that runs later.
type passage struct {
	samples []float64 // module.MaxBlock samples: of the output, or as the other part sees them
	store   []float64 // wideSamples samples
}

// pass lays a passage for samples and returns what the part it leads to reads.
func (c *compiler) pass(samples []float64, from, to *part) []float64 {
	name := passing{&samples[0], from, to}
	if seen, ok := c.passages[name]; ok {
		return seen
	}
	if c.passages == nil {
		c.passages = map[passing][]float64{}
	}
	seen, store := make([]float64, module.MaxBlock), make([]float64, c.settings.wide)
	from.gives = append(from.gives, passage{samples, store})
	to.takes = append(to.takes, passage{seen, store})
	c.passages[name] = seen
	return seen
}

// runAt runs n samples of a part that stand at in what passes between the parts.
func (p *part) runAt(at, n int, note *module.Played) {
	for _, t := range p.takes {
		copy(t.samples[:n], t.store[at:])
	}
	copyPlayed(p.note, 0, note, at, n)
	p.run(n)
	for _, g := range p.gives {
		copy(g.store[at:at+n], g.samples)
	}
}

// crew computes the voices of one graph side by side. The parts are computed one
// after the other, each for wideSamples samples in blocks, so that nothing but
// the voices runs at the same time and no sum depends on who was first: the bits
// are those of Engine.Block.
type crew struct {
	engine  *Engine
	workers int
	notes   []module.Played // one for each place, wideSamples samples
}

func newCrew(e *Engine, workers, places int) *crew {
	c := &crew{engine: e, workers: workers, notes: make([]module.Played, places)}
	for i := range c.notes {
		c.notes[i] = newPlayed(wideSamples)
	}
	return c
}

// block is Engine.Block for a graph that was compiled to run wide.
func (c *crew) block(left, right []float64) {
	for len(left) > 0 {
		n := min(len(left), wideSamples)
		c.run(left[:n], right[:n])
		left, right = left[n:], right[n:]
	}
	c.engine.line.publish(&c.engine.place)
}

func (c *crew) run(left, right []float64) {
	e := c.engine
	e.pickUp()
	parts := e.now.parts
	first, last := &parts[0], &parts[len(parts)-1]
	inBlocks(len(left), func(at, n int) {
		e.play(n)
		for i := range c.notes {
			copyPlayed(&c.notes[i], at, &e.now.notes[i], 0, n)
		}
		first.runAt(at, n, &c.notes[0])
	})
	c.voices(parts[1:len(parts)-1], len(left))
	inBlocks(len(left), func(at, n int) {
		last.runAt(at, n, &c.notes[0])
		e.now.output(left[at:at+n], right[at:at+n])
	})
	bound(left)
	bound(right)
}

// voices runs n samples of every voice.
func (c *crew) voices(voices []part, n int) {
	var next atomic.Int32
	var crew sync.WaitGroup
	work := func() {
		for v := int(next.Add(1)) - 1; v < len(voices); v = int(next.Add(1)) - 1 {
			note := &c.notes[v/c.engine.now.voices.Unison]
			inBlocks(n, func(at, n int) { voices[v].runAt(at, n, note) })
		}
	}
	for range c.workers - 1 {
		crew.Go(work)
	}
	work()
	crew.Wait()
}

// inBlocks calls f for n samples in blocks of at most module.MaxBlock.
func inBlocks(n int, f func(at, n int)) {
	for at := 0; at < n; at += module.MaxBlock {
		f(at, min(module.MaxBlock, n-at))
	}
}
