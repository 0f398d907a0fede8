package sheet

import (
	"math"
	"slices"

	"lampblack/patch"
)

// socketReach is how far around its place a socket can be hit.
const socketReach = 9.0

// cordReach is how near to a cord a click chooses it.
const cordReach = 5.0

// what lies at a place of the sheet.
type what int

const (
	ground what = iota
	onBlock
	onOutput
	onInput
	onControl
	onCord
)

// hit is what lies at a place, with its socket or module or cord.
type hit struct {
	what   what
	socket patch.Socket // of a socket; of a block its Module only
	cord   int
}

// at returns what lies at p: of blocks that overlap the one on top, with its
// sockets, before cords. reach is how much larger sockets and cords are to the
// hand (when the sheet is zoomed out).
func (l *layout) at(p Point, reach float64) hit {
	for _, i := range slices.Backward(l.near(span(p, p).grown(socketReach * reach))) {
		b := &l.blocks[i]
		if h, ok := b.socketAt(p, socketReach*reach); ok {
			return h
		}
		if b.box.holds(p) {
			return hit{what: onBlock, socket: patch.Socket{Module: b.name}, cord: -1}
		}
	}
	if i := l.cordAt(p, cordReach*reach); i >= 0 {
		return hit{what: onCord, cord: i}
	}
	return hit{cord: -1}
}

// socketAt returns the socket of a block at p. An output is reached from the
// right as well, an input from the left: half of its reach lies outside.
func (b *block) socketAt(p Point, reach float64) (hit, bool) {
	try := func(at Point, w what, name string) (hit, bool) {
		if math.Abs(p.X-at.X) <= reach && math.Abs(p.Y-at.Y) <= min(reach, rowHeight/2) {
			return hit{w, patch.Socket{Module: b.name, Name: name}, -1}, true
		}
		return hit{}, false
	}
	for _, s := range b.outputs {
		if h, ok := try(s.at, onOutput, s.name); ok {
			return h, true
		}
	}
	for _, s := range b.inputs {
		if h, ok := try(s.at, onInput, s.name); ok {
			return h, true
		}
	}
	for _, r := range b.rows {
		if r.socket {
			if h, ok := try(Point{X: b.box.X0, Y: r.y}, onControl, r.control); ok {
				return h, true
			}
		}
	}
	return hit{}, false
}

// targetAt returns the input or control that a cord dropped at p would end in:
// anywhere on a row counts as its socket, and a block with one input only is
// that input.
func (l *layout) targetAt(p Point, reach float64) (hit, bool) {
	h := l.at(p, reach)
	if h.what == onInput || h.what == onControl {
		return h, true
	}
	b := l.block(h.socket.Module)
	if h.what != onBlock || b == nil {
		return h, false
	}
	for _, r := range b.rows {
		if r.control != "" && math.Abs(p.Y-r.y) <= rowHeight/2 {
			return hit{onControl, patch.Socket{Module: b.name, Name: r.control}, -1}, true
		}
	}
	for _, s := range b.inputs {
		if b.labelled && math.Abs(p.Y-s.at.Y) <= rowHeight/2 || len(b.inputs) == 1 {
			return hit{onInput, patch.Socket{Module: b.name, Name: s.name}, -1}, true
		}
	}
	return h, false
}

// sourceAt returns the output from which a cord dropped at p would start: a
// block with one output only is that output.
func (l *layout) sourceAt(p Point, reach float64) (hit, bool) {
	h := l.at(p, reach)
	if h.what == onOutput {
		return h, true
	}
	b := l.block(h.socket.Module)
	if h.what != onBlock || b == nil {
		return h, false
	}
	for _, s := range b.outputs {
		if math.Abs(p.Y-s.at.Y) <= rowHeight/2 && p.X > b.box.centre().X || len(b.outputs) == 1 {
			return hit{onOutput, patch.Socket{Module: b.name, Name: s.name}, -1}, true
		}
	}
	return h, false
}

func (l *layout) cordAt(p Point, reach float64) int {
	best, nearest := -1, reach
	for i, c := range l.cords {
		if c.way == nil || !c.bounds.grown(max(reach, traceHeight)).holds(p) {
			continue
		}
		if c.trace.holds(p) {
			return i
		}
		for j := 1; j < len(c.way); j++ {
			box := span(c.way[j-1], c.way[j])
			dx := max(box.X0-p.X, 0, p.X-box.X1)
			dy := max(box.Y0-p.Y, 0, p.Y-box.Y1)
			if d := math.Hypot(dx, dy); d <= nearest {
				best, nearest = i, d
			}
		}
	}
	return best
}

// direction of a step from module to module.
type direction struct{ x, y float64 }

var (
	leftward  = direction{-1, 0}
	rightward = direction{1, 0}
	upward    = direction{0, -1}
	downward  = direction{0, 1}
)

// next returns the module that lies next to one in a direction, "" if there is
// none. From no module it is the first one.
func (l *layout) next(from string, d direction) string {
	b := l.block(from)
	if b == nil {
		if len(l.blocks) > 0 {
			return l.blocks[0].name
		}
		return ""
	}
	name, least := "", math.Inf(1)
	at := b.box.centre()
	for _, other := range l.blocks {
		c := other.box.centre()
		along := (c.X-at.X)*d.x + (c.Y-at.Y)*d.y
		aside := math.Abs((c.X-at.X)*d.y) + math.Abs((c.Y-at.Y)*d.x)
		if other.name == from || along <= 0 {
			continue
		}
		if cost := along + 2.5*aside; cost < least {
			name, least = other.name, cost
		}
	}
	return name
}

// freePlace returns the place on the grid nearest below p where a block of a
// common size overlaps nothing.
func (l *layout) freePlace(p Point) Point {
	p = snapped(p)
	for range 400 {
		if l.free(Box{p.X, p.Y, p.X + leastWidth, p.Y + 5*rule}.grown(rule / 2)) {
			return p
		}
		p.Y += rule
	}
	return p
}
