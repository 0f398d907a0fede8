package sheet

import (
	"math"
	"slices"
)

// Costs of a route, in sheet units of length.
const (
	stub        = 18.0  // a cord leaves and enters a block straight for so far
	lane        = 12.0  // cords keep so far from blocks and from each other
	costBlock   = 3000. // of running through a block
	costBend    = 24.0
	costOverlap = 160. // of lying on another cord
	costCross   = 14.  // of crossing another cord
	costNear    = 90.  // of running close along a block
	costRoom    = 20.  // of leaving no room for a trace beside a block
	traceLane   = 22.  // that room
)

// segment is one straight part of a cord, level or upright.
type segment struct {
	a, b   Point
	source int // cords from one output may lie on each other
}

func (s segment) upright() bool   { return s.a.X == s.b.X }
func (s segment) box() Box        { return span(s.a, s.b) }
func (s segment) length() float64 { return math.Abs(s.a.X-s.b.X) + math.Abs(s.a.Y-s.b.Y) }

// router finds orthogonal ways for cords, one after the other.
type router struct {
	blocks *grid[Box]
	laid   *grid[segment]
}

func newRouter(blocks []Box) *router {
	r := &router{newGrid[Box](), newGrid[segment]()}
	for _, b := range blocks {
		r.blocks.add(b, b)
	}
	return r
}

// route returns the corners of the cheapest way from an output to an input that
// it can think of, both ends included, and remembers it.
func (r *router) route(from, to Point, source int) []Point {
	near := r.blocks.find(span(from, to).grown(90))
	best, least := []Point(nil), math.Inf(1)
	try := func(corners ...Point) {
		way := straightened(corners)
		if cost := r.cost(way, source, least); cost < least {
			best, least = way, cost
		}
	}
	out, in := from.X+stub, to.X-stub
	if from.Y == to.Y && in >= out {
		try(from, to)
	}
	if in >= out {
		for _, x := range r.columns(out, in, near) {
			try(from, Point{X: x, Y: from.Y}, Point{X: x, Y: to.Y}, to)
		}
	}
	if least < costBlock { // a way with one upright part is clear: no detour is better
		r.remember(best, source)
		return best
	}
	for _, y := range rows(from, to, near) {
		for _, a := range []float64{0, 1, 2, 3} {
			for _, b := range []float64{0, 1, 2, 3} {
				x0, x1 := out+a*lane, in-b*lane
				try(from, Point{X: x0, Y: from.Y}, Point{X: x0, Y: y}, Point{X: x1, Y: y}, Point{X: x1, Y: to.Y}, to)
			}
		}
	}
	r.remember(best, source)
	return best
}

// columns returns the places for an upright part between out and in.
func (r *router) columns(out, in float64, near []Box) []float64 {
	xs := []float64{in, out, math.Round((out + in) / 2)}
	for i := 1.; i <= 5; i++ {
		xs = append(xs, in-i*lane, out+i*lane)
	}
	for _, b := range near {
		xs = append(xs, b.X0-stub, b.X1+stub, b.X0-stub-lane, b.X1+stub+lane)
	}
	xs = distinct(slices.DeleteFunc(xs, func(x float64) bool { return x < out || x > in }))
	slices.Reverse(xs) // of equal ways the one that turns late has most room for a trace
	return xs
}

// rows returns the places for a level part on the way back.
func rows(from, to Point, near []Box) []float64 {
	ys := []float64{math.Round((from.Y + to.Y) / 2)}
	all := span(from, to)
	for _, b := range near {
		all = all.around(b)
		ys = append(ys, b.Y0-rule, b.Y1+rule, b.Y0-rule-lane, b.Y1+rule+lane)
	}
	return distinct(append(ys, all.Y0-rule, all.Y1+rule))
}

// distinct sorts out what is there twice: modules in rows share their edges.
func distinct(places []float64) []float64 {
	slices.Sort(places)
	return slices.Compact(places)
}

// cost adds up what a way costs; it stops when that is more than limit.
func (r *router) cost(way []Point, source int, limit float64) float64 {
	cost := costBend * float64(len(way)-2)
	for i := 1; i < len(way); i++ {
		s := segment{way[i-1], way[i], source}
		cost += s.length()
		if cost > limit {
			return cost
		}
		box := s.box()
		ends := i == 1 || i == len(way)-1
		for _, b := range r.blocks.find(box.grown(traceLane)) {
			switch {
			case box.meets(b.grown(-1)):
				cost += costBlock
			case !ends && box.meets(b.grown(lane)):
				cost += costNear
			case !ends && !s.upright() && box.meets(b.grown(traceLane)):
				cost += costRoom
			}
		}
		for _, other := range r.laid.find(box.grown(lane)) {
			if other.source != source {
				cost += conflict(s, other)
			}
		}
	}
	return cost
}

// conflict is the cost of two cords that lie on or across each other.
func conflict(s, other segment) float64 {
	a, b := s.box(), other.box()
	if s.upright() != other.upright() {
		if a.X0 <= b.X1 && b.X0 <= a.X1 && a.Y0 <= b.Y1 && b.Y0 <= a.Y1 {
			return costCross
		}
		return 0
	}
	apart, common := math.Abs(a.Y0-b.Y0), min(a.X1, b.X1)-max(a.X0, b.X0)
	if s.upright() {
		apart, common = math.Abs(a.X0-b.X0), min(a.Y1, b.Y1)-max(a.Y0, b.Y0)
	}
	if apart < lane*0.8 && common > -lane { // end to end they would look like one
		return costOverlap + max(common, 0)
	}
	return 0
}

func (r *router) remember(way []Point, source int) {
	for i := 1; i < len(way); i++ {
		s := segment{way[i-1], way[i], source}
		r.laid.add(s.box(), s)
	}
}

// straightened leaves out corners that are none.
func straightened(way []Point) []Point {
	out := make([]Point, 0, len(way))
	for _, p := range way {
		if n := len(out); n > 0 && out[n-1] == p {
			continue
		}
		if n := len(out); n > 1 && (out[n-1].X == out[n-2].X && p.X == out[n-1].X || out[n-1].Y == out[n-2].Y && p.Y == out[n-1].Y) {
			out[n-1] = p
			continue
		}
		out = append(out, p)
	}
	return out
}
