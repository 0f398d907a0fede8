package engine

import (
	"lampblack/patch"
	"lampblack/patch/module"
)

// join lays the cords: every inlet and every moved control learns which buffers
// it reads.
func (c *compiler) join() {
	g := c.graph
	late := map[*float64]bool{}
	c.read = map[*float64]bool{}
	for number := range c.patch.Modules {
		n := &g.nodes[c.place[number]]
		for i := range n.ins {
			c.joinInput(n, number, i, late)
		}
		for _, i := range c.into[number] {
			c.joinControl(n, c.patch.Cords[i], late)
		}
	}
	for i := range g.nodes {
		n := &g.nodes[i]
		n.block.Played = &g.played
		n.parts = newParts(n, &g.note)
		for k, out := range n.outs {
			if late[&out[0]] {
				g.late = append(g.late, out)
			}
			if !n.kind.Bounded && c.read[&out[0]] || n.kind.Name == OutputKind {
				n.heeded = append(n.heeded, k)
			}
		}
	}
	for _, s := range g.steps {
		for i := s.first; s.loop && i < s.last; i++ {
			n := &g.nodes[i]
			n.block.Played = &g.one
			n.loop = newLooped(&n.block)
		}
	}
	c.joinOutput()
	g.setLength(module.MaxBlock)
}

// joinInput gives input i of n what its cords bring, or what it hears open.
func (c *compiler) joinInput(n *node, number, i int, late map[*float64]bool) {
	in := &n.ins[i]
	spec := n.kind.Inputs[i]
	for _, cord := range c.into[number] {
		if k := c.patch.Cords[cord]; k.To.Name == spec.Name {
			in.sources = append(in.sources, c.source(k, late))
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
		in.samples = c.graph.note.Gate
	case spec.Open == patch.OpenTrigger:
		in.samples = c.graph.note.Trigger
	case spec.Open == patch.OpenLeft && i > 0:
		in.samples = n.ins[0].samples
	default:
		in.samples = c.graph.silence
	}
	in.sources = nil // nothing to add up
}

// joinControl adds the cord to the control it ends in, if it ends in one.
func (c *compiler) joinControl(n *node, cord patch.Cord, late map[*float64]bool) {
	for i := range n.controls {
		if n.kind.Controls[i].Name == cord.To.Name && n.kind.Input(cord.To.Name) < 0 {
			n.controls[i].addMove(cord, c.source(cord, late))
			return
		}
	}
}

// source returns the module.MaxBlock samples that a cord carries. An output's
// buffer begins with the last sample of the block before, so a cord that closes
// a loop reads the same buffer from one sample earlier: it is late by exactly
// one sample, and costs nothing.
func (c *compiler) source(cord patch.Cord, late map[*float64]bool) []float64 {
	from, to := c.place[c.number[cord.From.Module]], c.place[c.number[cord.To.Module]]
	n := &c.graph.nodes[from]
	out := n.outs[n.kind.Output(cord.From.Name)]
	c.read[&out[0]] = true
	if from >= to {
		late[&out[0]] = true
		return out[:module.MaxBlock]
	}
	return out[1:]
}

// joinOutput finds what is heard: the outputs of every module of kind "output",
// or, if that kind has none, its inputs.
func (c *compiler) joinOutput() {
	g := c.graph
	for number := range c.patch.Modules {
		n := &g.nodes[c.place[number]]
		if n.kind.Name != OutputKind {
			continue
		}
		var heard [][]float64
		for _, out := range n.outs {
			heard = append(heard, out[1:])
		}
		for i := 0; len(n.outs) == 0 && i < len(n.ins); i++ {
			heard = append(heard, n.ins[i].samples)
		}
		if len(heard) == 0 {
			continue
		}
		g.heard = append(g.heard, [2][]float64{heard[0], heard[min(1, len(heard)-1)]})
		if len(n.block.Joined) > 1 && n.block.Joined[1] {
			g.stereo = true
		}
	}
}
