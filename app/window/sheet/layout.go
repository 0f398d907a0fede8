package sheet

import (
	"math"
	"slices"

	"lampblack/patch"
)

// layout is the patch as geometry: it is made anew when the patch changes.
type layout struct {
	blocks []block
	byName map[string]int
	cords  []cord
	index  *grid[int] // of blocks
	open   string     // the module that shows all its controls and lies on top
}

// cord is a cord of the patch laid out.
type cord struct {
	cord    patch.Cord
	way     []Point // corners from output to input; nil if an end is missing
	bounds  Box
	control bool   // into a control
	depth   string // as it is written beside it
	trace   Box    // where its live trace stands, empty if there is no room
	label   Point  // left foot of the written depth
}

// layOut lays out a patch. The module called open shows all its controls.
// before is the layout of a moment ago or nil: cords about which nothing has
// moved keep their way, which makes dragging a module of a large patch quick.
func layOut(p *patch.Patch, kinds func(module *patch.Module) *patch.Kind, open string, t typeset, before *layout) *layout {
	l := &layout{byName: map[string]int{}, index: newGrid[int](), open: open}
	ends := map[patch.Socket]bool{}
	for _, c := range p.Cords {
		ends[c.From], ends[c.To] = true, true
	}
	joined := func(s patch.Socket) bool { return ends[s] }
	boxes := make([]Box, len(p.Modules))
	for i := range p.Modules {
		m := &p.Modules[i]
		b := layOutBlock(m, kinds(m), joined, m.Name == open, t)
		l.blocks = append(l.blocks, b)
		l.byName[m.Name] = i
		l.index.add(b.box.grown(socketReach), i)
		boxes[i] = b.box
	}
	r := newRouter(boxes)
	kept := before.undisturbed(l)
	sources := map[patch.Socket]int{}
	for _, c := range p.Cords {
		if _, ok := sources[c.From]; !ok {
			sources[c.From] = len(sources)
		}
		l.cords = append(l.cords, l.layOutCord(c, r, sources[c.From], kept[[2]patch.Socket{c.From, c.To}]))
	}
	l.placeTraces(r, sources, t)
	return l
}

func (l *layout) layOutCord(c patch.Cord, r *router, source int, kept []Point) cord {
	laid := cord{cord: c}
	from, to := l.block(c.From.Module), l.block(c.To.Module)
	if from == nil || to == nil {
		return laid
	}
	a, okA := from.end(c.From.Name, true)
	b, okB := to.end(c.To.Name, false)
	if !okA || !okB {
		return laid
	}
	laid.control = to.kind.Input(c.To.Name) < 0
	if n := len(kept); n > 1 && kept[0] == a && kept[n-1] == b {
		laid.way = kept
		r.remember(kept, source)
	} else {
		laid.way = r.route(a, b, source)
	}
	laid.bounds = span(a, b)
	for _, p := range laid.way {
		laid.bounds = laid.bounds.around(span(p, p))
	}
	return laid
}

// undisturbed returns the ways of the cords near which after has the same
// blocks as l.
func (l *layout) undisturbed(after *layout) map[[2]patch.Socket][]Point {
	kept := map[[2]patch.Socket][]Point{}
	if l == nil {
		return kept
	}
	moved := newGrid[Box]()
	for _, b := range after.blocks {
		if old := l.block(b.name); old == nil || old.box != b.box {
			moved.add(b.box, b.box)
		}
	}
	for _, b := range l.blocks {
		if now := after.block(b.name); now == nil || now.box != b.box {
			moved.add(b.box, b.box)
		}
	}
	for _, c := range l.cords {
		if c.way != nil && len(moved.find(c.bounds.grown(2*lane))) == 0 {
			kept[[2]patch.Socket{c.cord.From, c.cord.To}] = c.way
		}
	}
	return kept
}

// near returns the numbers of the blocks that touch a box, from the lowest to
// the one on top: in the order in which modules were added, an open one last.
func (l *layout) near(b Box) []int {
	found := l.index.find(b)
	slices.SortFunc(found, func(i, j int) int {
		switch l.open {
		case l.blocks[i].name:
			return 1
		case l.blocks[j].name:
			return -1
		}
		return i - j
	})
	return found
}

// block returns the block of a module, or nil.
func (l *layout) block(name string) *block {
	if i, ok := l.byName[name]; ok {
		return &l.blocks[i]
	}
	return nil
}

// bounds returns the box around all blocks and cords.
func (l *layout) bounds() Box {
	var all Box
	for i, b := range l.blocks {
		if i == 0 {
			all = b.box
		}
		all = all.around(b.box)
	}
	for _, c := range l.cords {
		if c.way != nil {
			all = all.around(c.bounds)
		}
	}
	return all
}

// free tells whether a box lies on no block.
func (l *layout) free(b Box) bool {
	for _, i := range l.index.find(b) {
		if l.blocks[i].box.meets(b) {
			return false
		}
	}
	return true
}

// snapped returns the place on the grid that is nearest to p.
func snapped(p Point) Point {
	return Point{X: max(0, math.Round(p.X/gridX)*gridX), Y: max(0, math.Round(p.Y/rule)*rule)}
}
