package engine

import (
	"lampblack/patch"
	"lampblack/patch/module"
)

// join lays the cords: every inlet and every moved control learns which buffers
// it reads.
func (c *compiler) join() {
	g := c.graph
	c.late = map[*float64]bool{}
	c.read = map[*float64]bool{}
	for at := range g.nodes {
		n := &g.nodes[at]
		for i := range n.ins {
			c.joinInput(n, i)
		}
		for _, i := range c.into[n.number] {
			c.joinControl(n, c.patch.Cords[i])
		}
	}
	for i := range g.parts {
		c.finish(&g.parts[i])
	}
	c.joinOutput()
}

// finish lets a part's nodes see the note, and finds out what has to be looked at
// in every block.
func (c *compiler) finish(p *part) {
	for i := range p.nodes {
		n := &p.nodes[i]
		n.block.Played = &p.played
		n.parts = newParts(n, p.note)
		for k, out := range n.outs {
			if c.late[&out[0]] {
				p.late = append(p.late, out)
			}
			if !n.kind.Bounded && c.read[&out[0]] || n.kind.Name == OutputKind {
				n.heeded = append(n.heeded, k)
			}
		}
	}
	for _, s := range p.steps {
		for i := s.first; s.loop && i < s.last; i++ {
			n := &p.nodes[i]
			n.block.Played = &p.one
			n.loop = newLooped(&n.block)
		}
	}
	p.setLength(module.MaxBlock)
}

// joinInput gives input i of n what its cords bring, or what it hears open.
func (c *compiler) joinInput(n *node, i int) {
	in := &n.ins[i]
	spec := n.kind.Inputs[i]
	for _, cord := range c.into[n.number] {
		if k := c.patch.Cords[cord]; k.To.Name == spec.Name {
			in.sources = append(in.sources, c.sources(n, k)...)
		}
	}
	n.block.Joined[i] = len(in.sources) > 0
	switch {
	case len(in.sources) > 1:
		in.samples = c.buffer(module.MaxBlock)
		return
	case len(in.sources) == 1:
		in.samples = in.sources[0]
	case spec.Open == patch.OpenGate:
		in.samples = n.part.note.Gate
	case spec.Open == patch.OpenTrigger:
		in.samples = n.part.note.Trigger
	case spec.Open == patch.OpenLeft && i > 0:
		in.samples = n.ins[0].samples
	default:
		in.samples = c.graph.silence
	}
	in.sources = nil // nothing to add up
}

// joinControl adds the cord to the control it ends in, if it ends in one.
func (c *compiler) joinControl(n *node, cord patch.Cord) {
	for i := range n.controls {
		if n.kind.Controls[i].Name == cord.To.Name && n.kind.Input(cord.To.Name) < 0 {
			// One source: what hears several voices is not moved by them (see Voices).
			n.controls[i].addMove(cord, c.sources(n, cord)[0])
			return
		}
	}
}

// sources returns the module.MaxBlock samples that a cord carries to n: from its
// own voice, from what is there once, or from every voice in turn.
func (c *compiler) sources(n *node, cord patch.Cord) (list [][]float64) {
	from := c.number[cord.From.Module]
	first, last := n.voice, n.voice+1
	if c.region[from] == voiced && c.region[n.number] != voiced {
		first, last = 0, c.nodes[from].count
	}
	for v := first; v < last; v++ {
		list = append(list, c.source(&c.graph.nodes[c.nodes[from].of(v)], n, cord.From.Name))
	}
	return list
}

// source returns the samples of an output of from as n reads them. An output's
// buffer begins with the last sample of the block before, so a cord that closes
// a loop reads the same buffer from one sample earlier: it is late by exactly
// one sample, and costs nothing.
func (c *compiler) source(from, n *node, output string) []float64 {
	out := from.outs[from.kind.Output(output)]
	c.read[&out[0]] = true
	if c.place[from.number] >= c.place[n.number] {
		c.late[&out[0]] = true
		return out[:module.MaxBlock]
	}
	if from.part != n.part && c.settings.wide > 0 {
		return c.pass(out[1:], from.part, n.part)
	}
	return out[1:]
}

// joinOutput finds what is heard: the outputs of every module of kind "output",
// or, if that kind has none, its inputs.
func (c *compiler) joinOutput() {
	g := c.graph
	for number := range c.patch.Modules {
		for v := range c.nodes[number].count {
			c.hearOutput(&g.nodes[c.nodes[number].of(v)])
		}
	}
}

func (c *compiler) hearOutput(n *node) {
	if n.kind.Name != OutputKind {
		return
	}
	var heard [][]float64
	for _, out := range n.outs {
		heard = append(heard, c.heard(out[1:], n))
	}
	for i := 0; len(n.outs) == 0 && i < len(n.ins); i++ {
		heard = append(heard, c.heard(n.ins[i].samples, n))
	}
	if len(heard) == 0 {
		return
	}
	c.graph.heard = append(c.graph.heard, [2][]float64{heard[0], heard[min(1, len(heard)-1)]})
	if len(n.block.Joined) > 1 && n.block.Joined[1] {
		c.graph.stereo = true
	}
}

// heard returns what is heard of the samples of n, where the last part runs.
func (c *compiler) heard(samples []float64, n *node) []float64 {
	last := &c.graph.parts[len(c.graph.parts)-1]
	if c.settings.wide > 0 && n.part != last {
		return c.pass(samples, n.part, last)
	}
	return samples
}
