package engine

import (
	"fmt"

	"lampblack/patch"
	"lampblack/patch/module"
)

// Lowest and highest rate, in samples a second.
const (
	MinRate = 8_000
	MaxRate = 384_000
)

// Catalogue gives the words and the sound of the kinds of module.
type Catalogue interface {
	patch.Kinds
	Module(name string) (*module.Kind, bool)
}

// Settings are what Compile needs beside the patch.
type Settings struct {
	Rate  int                     // samples a second, MinRate to MaxRate
	Clips map[string]*module.Clip // decoded recordings at Rate, by the name of the module that plays them
	Kinds Catalogue               // nil: the project's own kinds (package kind)
}

// Compile makes a graph that can be swapped into an Engine of the same rate. It
// validates the patch and tells every fault at once. All memory that sounding
// takes is allocated here.
//
// A module's noise is drawn from the patch's seed and the module's name, so it
// does not depend on what else is in the patch.
func Compile(p patch.Patch, s Settings) (*Graph, error) {
	if s.Kinds == nil {
		s.Kinds = defaultKinds
	}
	if s.Rate < MinRate || s.Rate > MaxRate {
		return nil, fmt.Errorf("the rate is %d samples a second; it must be %d to %d; the patch was not compiled", s.Rate, MinRate, MaxRate)
	}
	if err := p.Validate(s.Kinds); err != nil {
		return nil, err
	}
	c := compiler{patch: p, settings: s, graph: &Graph{rate: float64(s.Rate)}}
	if err := c.findKinds(); err != nil {
		return nil, err
	}
	c.order()
	c.measure()
	c.build()
	c.join()
	return c.graph, nil
}

// compiler holds what is known on the way from a patch to a graph.
type compiler struct {
	patch    patch.Patch
	settings Settings
	graph    *Graph
	kinds    []*module.Kind    // by module, in patch order
	number   map[string]int    // of a module in the patch, by name
	place    []int             // of a module in running order, by number in the patch
	into     [][]int           // cords that end in a module, in patch order, by its number
	free     []float64         // what is left of the slab
	read     map[*float64]bool // outputs that a cord starts at, by their first sample
}

// findKinds looks up every module's kind and recording.
func (c *compiler) findKinds() error {
	c.number = make(map[string]int, len(c.patch.Modules))
	c.into = make([][]int, len(c.patch.Modules))
	for i, m := range c.patch.Modules {
		k, ok := c.settings.Kinds.Module(m.Kind)
		if !ok {
			return fmt.Errorf("module %q: kind %q has no sound in this program; the patch was not compiled", m.Name, m.Kind)
		}
		if m.Recording != nil && c.settings.Clips[m.Name] == nil {
			return fmt.Errorf("module %q: its recording %q is not loaded; the patch was not compiled", m.Name, m.Recording.Name)
		}
		c.kinds = append(c.kinds, k)
		c.number[m.Name] = i
	}
	for i, cord := range c.patch.Cords {
		to := c.number[cord.To.Module]
		c.into[to] = append(c.into[to], i)
	}
	return nil
}

// measure makes the slab that holds every buffer of the graph.
func (c *compiler) measure() {
	size := 5*module.MaxBlock + 4 // silence, the note being played, and one sample of it
	for i, k := range c.kinds {
		size += len(k.Outputs)*(module.MaxBlock+1) + len(k.Controls)*module.MaxBlock
		for _, in := range k.Inputs {
			if c.cordsInto(i, in.Name) > 1 {
				size += module.MaxBlock
			}
		}
	}
	c.free = make([]float64, size)
	c.graph.silence = c.buffer(module.MaxBlock)
	c.graph.note = module.Played{
		Pitch:    c.buffer(module.MaxBlock),
		Gate:     c.buffer(module.MaxBlock),
		Trigger:  c.buffer(module.MaxBlock),
		Velocity: c.buffer(module.MaxBlock),
	}
	c.graph.one = module.Played{Pitch: c.buffer(1), Gate: c.buffer(1), Trigger: c.buffer(1), Velocity: c.buffer(1)}
}

// buffer cuts n samples from the slab.
func (c *compiler) buffer(n int) []float64 {
	b := c.free[:n:n]
	c.free = c.free[n:]
	return b
}

// cordsInto counts the cords that end in a socket of module number to.
func (c *compiler) cordsInto(to int, name string) (n int) {
	for _, i := range c.into[to] {
		if c.patch.Cords[i].To.Name == name {
			n++
		}
	}
	return n
}

// build makes the nodes in running order, with their sounds and controls.
func (c *compiler) build() {
	g := c.graph
	g.nodes = make([]node, len(c.kinds))
	g.byName = make(map[string]int, len(c.kinds))
	number := make([]int, len(c.place)) // in the patch, by place in running order
	for i, at := range c.place {
		number[at] = i
	}
	for at, i := range number { // so that memory is gone through in order
		m := c.patch.Modules[i]
		g.byName[m.Name] = at
		c.buildNode(&g.nodes[at], m, c.kinds[i])
	}
}

func (c *compiler) buildNode(n *node, m patch.Module, k *module.Kind) {
	n.name, n.kind = m.Name, k
	n.seed = seedOf(c.patch.Seed, m.Name)
	n.clip = c.settings.Clips[m.Name]
	n.sound = k.New(module.Setup{Rate: c.graph.rate, Seed: n.seed, Clip: n.clip, Rows: m.RowsFor(&k.Kind)})
	n.resumer, _ = n.sound.(module.Resumer)
	n.outs = make([][]float64, len(k.Outputs))
	for i := range n.outs {
		n.outs[i] = c.buffer(module.MaxBlock + 1)
	}
	n.ins = make([]inlet, len(k.Inputs))
	n.controls = make([]control, len(k.Controls))
	for i := range n.controls {
		spec := &k.Controls[i]
		setting, ok := m.Settings[spec.Name]
		if !ok {
			setting = spec.Default()
		}
		n.controls[i].init(spec, setting, c.graph.rate, c.buffer(module.MaxBlock))
	}
	n.block = module.Block{
		In:       make([][]float64, len(k.Inputs)),
		Joined:   make([]bool, len(k.Inputs)),
		Out:      make([][]float64, len(k.Outputs)),
		Controls: make([]module.Control, len(k.Controls)),
	}
}

// seedOf draws a module's seed from the patch's seed and the module's name:
// FNV-1a over the name (Fowler, Noll, Vo), spread by the finaliser of SplitMix64
// (Steele, Lea & Flood, OOPSLA 2014).
func seedOf(seed uint64, name string) uint64 {
	h := uint64(14695981039346656037)
	for i := range len(name) {
		h = (h ^ uint64(name[i])) * 1099511628211
	}
	h ^= seed * 0x9e3779b97f4a7c15
	h = (h ^ h>>30) * 0xbf58476d1ce4e5b9
	h = (h ^ h>>27) * 0x94d049bb133111eb
	return h ^ h>>31
}
