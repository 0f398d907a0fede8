package engine

// pair says that a module of a graph was there before.
type pair struct {
	here, before int  // numbers of the nodes
	same         bool // also in kind, version, seed and recording
}

// follow finds the modules that g has in common with the graph before; desk
// side, before g is handed over.
func (g *Graph) follow(before *Graph) {
	g.pairs = nil
	for i := range g.nodes {
		at, ok := before.byName[g.nodes[i].name]
		if !ok {
			continue
		}
		a, b := &g.nodes[i], &before.nodes[at]
		if a.kind != b.kind {
			continue
		}
		g.pairs = append(g.pairs, pair{here: i, before: at, same: a.seed == b.seed && a.clip == b.clip})
	}
}

// resume lets the modules of g go on from where those of before stand. The
// graph before is left as it is: it sounds on while it fades.
func (g *Graph) resume(before *Graph) {
	for _, p := range g.pairs {
		a, b := &g.nodes[p.here], &before.nodes[p.before]
		for k := range a.controls {
			a.controls[k].resume(&b.controls[k])
		}
		for k := range a.outs {
			a.outs[k][g.n] = b.outs[k][before.n] // for cords that are late
		}
		if a.resumer != nil && p.same {
			a.resumer.Resume(b.sound)
		}
	}
}

// resume starts the glide of a setting, and of every depth, where before stands.
func (c *control) resume(before *control) {
	if c.scale == before.scale && !c.now.stepped {
		c.glide.from(&before.glide, c.rate)
		c.filled, c.kept = false, false
	}
	for i := range c.cords {
		for k := range before.cords {
			a, b := &c.cords[i], &before.cords[k]
			if a.from == b.from && a.kind == b.kind {
				a.glide.from(&b.glide, c.rate)
			}
		}
	}
}
