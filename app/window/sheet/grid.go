package sheet

import "math"

// grid finds what lies near a place without looking at everything: things are
// kept by the squares that their boxes touch.
type grid[T any] struct {
	squares map[[2]int][]int
	boxes   []Box
	things  []T
	seen    []int
	asked   int
}

const square = 256.0

func newGrid[T any]() *grid[T] { return &grid[T]{squares: map[[2]int][]int{}} }

func (g *grid[T]) each(b Box, fn func(key [2]int)) {
	for x := int(math.Floor(b.X0 / square)); x <= int(math.Floor(b.X1/square)); x++ {
		for y := int(math.Floor(b.Y0 / square)); y <= int(math.Floor(b.Y1/square)); y++ {
			fn([2]int{x, y})
		}
	}
}

func (g *grid[T]) add(b Box, thing T) {
	g.boxes, g.things, g.seen = append(g.boxes, b), append(g.things, thing), append(g.seen, 0)
	g.each(b, func(key [2]int) { g.squares[key] = append(g.squares[key], len(g.things)-1) })
}

// find returns the things whose boxes touch b, each once, in the order in which
// they were added within a square.
func (g *grid[T]) find(b Box) []T {
	g.asked++
	var found []T
	g.each(b, func(key [2]int) {
		for _, i := range g.squares[key] {
			c := g.boxes[i]
			if g.seen[i] == g.asked || b.X0 > c.X1 || c.X0 > b.X1 || b.Y0 > c.Y1 || c.Y0 > b.Y1 {
				continue
			}
			g.seen[i] = g.asked
			found = append(found, g.things[i])
		}
	})
	return found
}
