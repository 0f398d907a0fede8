package engine

import (
	"container/heap"
	"slices"

	"gonum.org/v1/gonum/graph/simple"
	"gonum.org/v1/gonum/graph/topo"
)

// order decides in which order the modules run, and which of them form loops.
// A loop is a strongly connected component (Tarjan, SIAM J. Comput. 1(2), 1972)
// of two or more modules, or one module with a cord into itself. The order does
// not depend on the order of any map: where cords leave a choice, the module
// that comes first in the patch runs first.
func (c *compiler) order() {
	modules := len(c.kinds)
	to := make([][]int, modules) // by module: the modules its cords end in
	g := simple.NewDirectedGraph()
	for i := range modules {
		g.AddNode(simple.Node(i))
	}
	selfLoop := make([]bool, modules)
	for _, cord := range c.patch.Cords {
		a, b := c.number[cord.From.Module], c.number[cord.To.Module]
		if a == b {
			selfLoop[a] = true
			continue
		}
		if !g.HasEdgeFromTo(int64(a), int64(b)) {
			g.SetEdge(simple.Edge{F: simple.Node(a), T: simple.Node(b)})
			to[a] = append(to[a], b)
		}
	}
	for i := range to {
		slices.Sort(to[i])
	}
	var components [][]int
	for _, nodes := range topo.TarjanSCC(g) {
		var members []int
		for _, n := range nodes {
			members = append(members, int(n.ID()))
		}
		slices.Sort(members)
		components = append(components, members)
	}
	slices.SortFunc(components, slices.Compare[[]int])

	c.place = make([]int, modules)
	at := 0
	for _, members := range inOrder(components, to, modules) {
		loop := len(members) > 1 || selfLoop[members[0]]
		if loop {
			members = unroll(members, to, modules)
		}
		c.runs, c.loops = append(c.runs, members), append(c.loops, loop)
		for _, m := range members {
			c.place[m] = at
			at++
		}
	}
}

// inOrder sorts components so that cords between them lead forward; among those
// that may run, the one with the first module of the patch comes first (Kahn,
// CACM 5(11), 1962, with a priority queue). components are sorted by their first
// module.
func inOrder(components [][]int, to [][]int, modules int) [][]int {
	of := make([]int, modules) // by module: the number of its component
	for i, members := range components {
		for _, m := range members {
			of[m] = i
		}
	}
	waits := make([]int, len(components))
	for from, list := range to {
		for _, m := range list {
			if of[from] != of[m] {
				waits[of[m]]++
			}
		}
	}
	var ready intHeap
	for i, w := range waits {
		if w == 0 {
			ready = append(ready, i) // rising, so already a heap
		}
	}
	sorted := make([][]int, 0, len(components))
	for len(ready) > 0 {
		i := heap.Pop(&ready).(int)
		sorted = append(sorted, components[i])
		for _, from := range components[i] {
			for _, m := range to[from] {
				if of[m] == i {
					continue
				}
				if waits[of[m]]--; waits[of[m]] == 0 {
					heap.Push(&ready, of[m])
				}
			}
		}
	}
	return sorted
}

// unroll orders the modules of one loop. It starts at the first module that
// hears something from outside the loop (else the first of the patch) and
// follows the cords, depth first; in the resulting order only cords that close
// a loop lead back. A plain ring thus has one late cord, the one into its entry.
func unroll(members []int, to [][]int, modules int) []int {
	inside := make([]bool, modules)
	for _, m := range members {
		inside[m] = true
	}
	entry := members[0]
	best := modules
	for from, list := range to {
		if inside[from] {
			continue
		}
		for _, m := range list {
			if inside[m] && m < best {
				entry, best = m, m
			}
		}
	}
	// Depth-first without recursion: a patch file must not choose our stack.
	finished := make([]int, 0, len(members))
	seen := make([]bool, modules)
	type visit struct{ module, next int }
	stack := []visit{{entry, 0}}
	seen[entry] = true
	for len(stack) > 0 {
		top := &stack[len(stack)-1]
		list := to[top.module]
		if top.next == len(list) {
			finished = append(finished, top.module)
			stack = stack[:len(stack)-1]
			continue
		}
		// The last neighbour first, so that the first comes first when reversed.
		m := list[len(list)-1-top.next]
		top.next++
		if inside[m] && !seen[m] {
			seen[m] = true
			stack = append(stack, visit{m, 0})
		}
	}
	slices.Reverse(finished)
	return finished
}

// intHeap is a heap of numbers, least first.
type intHeap []int

func (h intHeap) Len() int           { return len(h) }
func (h intHeap) Less(i, j int) bool { return h[i] < h[j] }
func (h intHeap) Swap(i, j int)      { h[i], h[j] = h[j], h[i] }
func (h *intHeap) Push(x any)        { *h = append(*h, x.(int)) }
func (h *intHeap) Pop() any {
	old := *h
	x := old[len(old)-1]
	*h = old[:len(old)-1]
	return x
}
