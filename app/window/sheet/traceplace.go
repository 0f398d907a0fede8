package sheet

import "lampblack/patch"

// Measures of a live trace and of a written depth.
const (
	traceWidth  = 58.0
	traceHeight = 24.0
	traceRoom   = 5.0  // line that is left at either end of a trace
	traceLeast  = 30.0 // width below which there is none
	labelHeight = 14.0
)

// Costs of a place for a trace or a depth, against each other.
const (
	costNarrow  = 15.0 // a trace narrower than others
	costUpright = 30.0 // across an upright line
	costLater   = 4.0  // on a later part of the cord: near its source it is looked for first
	costOnCord  = 40.0 // another cord runs through it
	costOnTrace = 80.0
	costOnBlock = 200.0
)

// placer finds places for traces and depths where they lie on nothing.
type placer struct {
	layout *layout
	router *router
	traces *grid[Box]
}

// placeTraces gives every cord the place of its trace and of its depth. All
// ways are known by then.
func (l *layout) placeTraces(r *router, sources map[patch.Socket]int, t typeset) {
	p := &placer{l, r, newGrid[Box]()}
	for i := range l.cords {
		c := &l.cords[i]
		if c.way == nil {
			continue
		}
		source := sources[c.cord.From]
		c.trace = p.trace(c.way, source)
		if !c.trace.empty() {
			p.traces.add(c.trace, c.trace)
		}
	}
	for i := range l.cords {
		c := &l.cords[i]
		if c.way != nil && c.control {
			c.depth = t.shown(c.cord.Depth.Signed())
			c.label = p.label(c, sources[c.cord.From], t.measure(labelLetters, c.depth))
		}
	}
}

// trace returns the best place on a way, an empty box if there is none.
func (p *placer) trace(way []Point, source int) Box {
	best, least := Box{}, costOnBlock
	try := func(b Box, cost float64) {
		if cost += p.lies(b, source); cost < least {
			best, least = b, cost
		}
	}
	for i := 1; i < len(way); i++ {
		s := segment{a: way[i-1], b: way[i]}
		later := costLater * float64(i)
		width := min(traceWidth, s.length()-2*traceRoom)
		switch {
		case s.upright() && s.length() >= traceHeight+2*traceRoom:
			for _, part := range []float64{0.5, 0.25, 0.75} {
				try(traceAt(s, part, traceWidth, traceHeight), costUpright+later)
			}
		case !s.upright() && width >= traceLeast:
			cost := later
			if width < traceWidth {
				cost += costNarrow * (2 - width/traceWidth)
			}
			for _, part := range []float64{0.5, 0.2, 0.8} {
				try(traceAt(s, part, width, width), cost)
			}
		}
	}
	return best
}

// traceAt returns a trace whose middle lies part of the way along s, so far
// from its ends that length fits.
func traceAt(s segment, part, width, length float64) Box {
	room := (length/2 + traceRoom) / s.length()
	part = min(max(part, room), 1-room)
	x, y := s.a.X+(s.b.X-s.a.X)*part, s.a.Y+(s.b.Y-s.a.Y)*part
	return Box{x - width/2, y - traceHeight/2, x + width/2, y + traceHeight/2}
}

// lies is the cost of what a box lies on: blocks, other traces, other cords.
func (p *placer) lies(b Box, source int) float64 {
	cost := 0.0
	if !p.layout.free(b) {
		cost += costOnBlock
	}
	for _, other := range p.traces.find(b) {
		if other.meets(b) {
			cost += costOnTrace
		}
	}
	for _, s := range p.router.laid.find(b) {
		if s.source != source && s.box().meets(b) {
			cost += costOnCord
		}
	}
	return cost
}

// label returns the left foot of a written depth: over or under the trace, or
// at the end of the cord.
func (p *placer) label(c *cord, source int, width float64) Point {
	end := c.way[len(c.way)-1]
	tries := []Point{{X: end.X - stub - width, Y: end.Y - 2}, {X: end.X - stub - width, Y: end.Y + labelHeight}}
	if !c.trace.empty() {
		tries = append([]Point{
			{X: c.trace.X0, Y: c.trace.Y0}, {X: c.trace.X0, Y: c.trace.Y1 + labelHeight},
			{X: c.trace.X1 - width, Y: c.trace.Y0}, {X: c.trace.X1 - width, Y: c.trace.Y1 + labelHeight},
			{X: c.trace.X1 + 3, Y: c.trace.Y0}, {X: c.trace.X0 - width - 3, Y: c.trace.Y0},
		}, tries...)
	}
	best, least := tries[0], 1e9
	for i, at := range tries {
		// The label's own cord counts here: it would strike the writing out.
		cost := float64(i) + p.lies(Box{at.X, at.Y - labelHeight + 1, at.X + width, at.Y - 1}, -1)
		if cost < least {
			best, least = at, cost
		}
	}
	return best
}
