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
		a := &g.nodes[i]
		at := before.counterpart(a, g.voices.Unison)
		if at < 0 {
			continue
		}
		b := &before.nodes[at]
		if a.kind != b.kind {
			continue
		}
		same := a.seed == b.seed && a.clip == b.clip && (a.voice == b.voice || !a.kind.Seeded)
		g.pairs = append(g.pairs, pair{here: i, before: at, same: same})
	}
}

// counterpart returns the number of the node of g that a goes on from, or -1: the
// same voice of the same note, or, if a note has more voices now, its first.
func (g *Graph) counterpart(a *node, unison int) int {
	at, ok := g.byName[a.name]
	if !ok {
		return -1
	}
	place, voice := a.voice/unison, a.voice%unison
	switch {
	case at.count == 1 && g.voices.Count > 1:
		return at.first // it was there once, for all of them
	case place >= len(g.notes):
		return -1 // nothing sounded there
	}
	return at.of(place*g.voices.Unison + min(voice, g.voices.Unison-1))
}

// resume lets the modules of g go on from where those of before stand. The
// graph before is left as it is: it sounds on while it fades.
func (g *Graph) resume(before *Graph) {
	for _, p := range g.pairs {
		a, b := &g.nodes[p.here], &before.nodes[p.before]
		for k := range a.controls {
			a.controls[k].resume(&b.controls[k])
		}
		a.wake()
		for k := range a.outs {
			a.outs[k][a.part.n] = b.outs[k][b.part.n] // for cords that are late
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
