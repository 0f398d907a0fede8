package engine

import "lampblack/patch/module"

// parts is what a module needs besides whose choices or whole numbers are moved
// by cords. Its blocks are cut where one of them changes, to the sample, so that
// a Sound may take them as standing still and its bits do not depend on how long
// the blocks are.
type parts struct {
	moved  []int          // numbers of the stepped controls that cords move
	note   *module.Played // of the whole block
	played module.Played  // the samples of this part
}

// newParts returns what m needs, or nil if no cord moves a stepped control of it.
func newParts(m *node, note *module.Played) *parts {
	var moved []int
	for k := range m.controls {
		if c := &m.controls[k]; c.now.stepped && len(c.cords) > 0 {
			moved = append(moved, k)
		}
	}
	if moved == nil {
		return nil
	}
	return &parts{moved: moved, note: note}
}

// runParts computes the block in parts throughout which no stepped control
// changes.
func (m *node) runParts(n int) {
	for _, k := range m.parts.moved {
		m.block.Controls[k].Steady = true
	}
	whole := m.block.Played
	for from := 0; from < n; {
		to := m.sameUntil(from, n)
		m.cut(from, to)
		m.sound.Block(&m.block)
		from = to
	}
	m.cut(0, n)
	m.block.Played = whole
}

// sameUntil returns the sample behind from at which a stepped control changes,
// or n.
func (m *node) sameUntil(from, n int) int {
	for _, k := range m.parts.moved {
		v := m.controls[k].v
		for i := from + 1; i < n; i++ {
			if v[i] != v[from] {
				n = i
			}
		}
	}
	return n
}

// cut lets the module see samples from to to of the block.
func (m *node) cut(from, to int) {
	b, p := &m.block, m.parts
	b.N = to - from
	for k := range b.In {
		b.In[k] = m.ins[k].samples[from:to]
	}
	for k := range b.Out {
		b.Out[k] = m.outs[k][1+from : 1+to]
	}
	for k := range b.Controls {
		b.Controls[k].V = m.controls[k].v[from:to]
	}
	p.played = cutPlayed(p.note, from, to)
	b.Played = &p.played
}
