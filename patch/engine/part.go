package engine

import "lampblack/patch/module"

// part is a run of modules that needs nothing from the parts behind it: one
// voice, or what is there once before or behind the voices.
type part struct {
	note   *module.Played // module.MaxBlock samples of what this part hears as the note
	played module.Played  // the samples of this block
	one    module.Played  // the sample at which a loop stands, one long
	nodes  []node         // in running order
	steps  []step
	late   [][]float64 // outputs that a cord reads one sample late
	n      int         // samples of the block before

	gives, takes []passage // what goes from part to part, where they do not run in step
}

// step is a run of nodes of a part: one module on its own, or the modules of a
// loop.
type step struct {
	first, last int
	loop        bool
}

// run computes n samples of every module of the part.
func (p *part) run(n int) {
	for _, out := range p.late {
		out[0] = out[p.n]
	}
	if n != p.n {
		p.setLength(n)
	}
	for _, s := range p.steps {
		if s.loop {
			p.runLoop(p.nodes[s.first:s.last], n)
		} else {
			p.nodes[s.first].run(n)
		}
	}
}

// setLength cuts every slice that modules see to n samples.
func (p *part) setLength(n int) {
	p.n = n
	p.played = cutPlayed(p.note, 0, n)
	for i := range p.nodes {
		if p.nodes[i].loop == nil { // the slices of a module in a loop are one sample long, always
			p.nodes[i].setLength(n)
		}
	}
}

func (m *node) setLength(n int) {
	b := &m.block
	b.N = n
	for k := range b.In {
		b.In[k] = m.ins[k].samples[:n]
	}
	for k := range b.Out {
		b.Out[k] = m.outs[k][1 : 1+n]
	}
	for k := range b.Controls {
		b.Controls[k].V = m.controls[k].v[:n]
	}
}
