package engine

import (
	"fmt"
	"slices"

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

	wide int // samples that a part may run ahead of the next, for voices side by side; 0: none
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
	c := compiler{patch: p, settings: s, graph: &Graph{rate: float64(s.Rate), n: module.MaxBlock}}
	if err := c.findKinds(); err != nil {
		return nil, err
	}
	c.order()
	c.divide()
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
	into     [][]int           // cords that end in a module, in patch order, by its number
	place    []int             // of a module in running order, by number in the patch
	runs     [][]int           // modules in running order, one by one or as loops
	loops    []bool            // by run
	region   []region          // by module
	nodes    []instances       // by module
	free     []float64         // what is left of the slab
	read     map[*float64]bool // outputs that a cord starts at, by their first sample
	late     map[*float64]bool // outputs that a cord reads one sample late
	passages map[passing][]float64
}

// region says where a module is.
type region int

const (
	before region = iota // once: the voices hear it, it does not hear them
	voiced               // once for every voice
	behind               // once: it hears the voices, or noise
)

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

// divide finds what is there once for every voice, and where every module's nodes
// are. A patch of one voice is one part, in running order.
func (c *compiler) divide() {
	n := newNet(c.patch, c.settings.Kinds)
	c.graph.voices = VoicesOf(c.patch, c.settings.Kinds)
	inVoice, hearsVoices := n.divide()
	c.region = make([]region, len(c.kinds))
	c.nodes = make([]instances, len(c.kinds))
	for i := range c.kinds {
		switch {
		case inVoice[i] || c.graph.voices.Count == 1:
			c.region[i] = voiced
		case hearsVoices[i]:
			c.region[i] = behind
		}
	}
	at, each := 0, c.inRegion(voiced)
	running := slices.Concat(c.runs...)
	for _, r := range []region{before, voiced, behind} {
		for _, i := range running {
			if c.region[i] != r {
				continue
			}
			c.nodes[i] = instances{first: at, count: 1}
			if r == voiced {
				c.nodes[i].step, c.nodes[i].count = each, c.graph.voices.Count
			}
			at++
		}
		if r == voiced {
			at += each * (c.graph.voices.Count - 1)
		}
	}
	c.graph.nodes = make([]node, at)
}

// inRegion counts the modules of a region.
func (c *compiler) inRegion(r region) (n int) {
	for _, is := range c.region {
		if is == r {
			n++
		}
	}
	return n
}

// measure makes the slab that holds every buffer of the nodes.
func (c *compiler) measure() {
	size := 0
	for i, k := range c.kinds {
		each := len(k.Outputs)*(module.MaxBlock+1) + len(k.Controls)*module.MaxBlock
		for _, in := range k.Inputs {
			if c.sourcesOf(i, in.Name) > 1 {
				each += module.MaxBlock
			}
		}
		size += each * c.nodes[i].count
	}
	c.free = make([]float64, size)
	c.graph.silence = make([]float64, module.MaxBlock)
	c.graph.makeNotes()
}

// buffer cuts n samples from the slab.
func (c *compiler) buffer(n int) []float64 {
	b := c.free[:n:n]
	c.free = c.free[n:]
	return b
}

// sourcesOf counts the outputs that a copy of module number to hears in a socket.
func (c *compiler) sourcesOf(to int, name string) (n int) {
	for _, i := range c.into[to] {
		if cord := c.patch.Cords[i]; cord.To.Name == name {
			n++
			if from := c.number[cord.From.Module]; c.region[from] == voiced && c.region[to] != voiced {
				n += c.nodes[from].count - 1
			}
		}
	}
	return n
}

// build makes the parts, and their nodes in running order, with their sounds and
// controls.
func (c *compiler) build() {
	g := c.graph
	g.byName = make(map[string]instances, len(c.kinds))
	for i, m := range c.patch.Modules {
		g.byName[m.Name] = c.nodes[i]
	}
	g.parts = make([]part, g.voices.Count+2)
	at := 0
	for p := range g.parts {
		switch voice := p - 1; {
		case voice < 0:
			at = c.buildPart(&g.parts[p], before, 0, at)
		case voice < g.voices.Count:
			at = c.buildPart(&g.parts[p], voiced, voice, at)
		default:
			at = c.buildPart(&g.parts[p], behind, 0, at)
		}
	}
}

// buildPart makes the part of a region, or of a voice, from node number at on, and
// returns the number of the node behind it.
func (c *compiler) buildPart(p *part, r region, voice, at int) int {
	first := at
	p.note = &c.graph.notes[voice/c.graph.voices.Unison]
	if c.settings.wide > 0 {
		own := newPlayed(module.MaxBlock) // the parts do not run in step
		p.note = &own
	}
	p.one = newPlayed(1)
	for i, run := range c.runs {
		if c.region[run[0]] != r {
			continue
		}
		p.steps = append(p.steps, step{first: at - first, last: at - first + len(run), loop: c.loops[i]})
		for _, number := range run { // so that memory is gone through in order
			n := &c.graph.nodes[at]
			n.part, n.voice, n.number = p, voice, number
			c.buildNode(n, c.patch.Modules[number], c.kinds[number])
			at++
		}
	}
	p.nodes = c.graph.nodes[first:at]
	return at
}

func (c *compiler) buildNode(n *node, m patch.Module, k *module.Kind) {
	n.name, n.kind = m.Name, k
	n.seed = seedOf(c.patch.Seed, m.Name)
	n.clip = c.settings.Clips[m.Name]
	n.sound = k.New(module.Setup{
		Rate: c.graph.rate, Seed: seedOfVoice(n.seed, n.voice), Side: c.graph.voices.side(n.voice),
		Clip: n.clip, Rows: m.RowsFor(&k.Kind),
	})
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
	n.awake = make([]int, 0, len(k.Controls))
	n.wake()
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
	return mixed(h ^ seed*0x9e3779b97f4a7c15)
}

// seedOfVoice draws the seed of a voice from its module's, which is voice 0's.
func seedOfVoice(seed uint64, voice int) uint64 {
	if voice == 0 {
		return seed
	}
	return mixed(seed + uint64(voice)*0x9e3779b97f4a7c15)
}

func mixed(h uint64) uint64 {
	h = (h ^ h>>30) * 0xbf58476d1ce4e5b9
	h = (h ^ h>>27) * 0x94d049bb133111eb
	return h ^ h>>31
}
