package engine

import (
	"math"
	"sync/atomic"

	"lampblack/patch"
)

// swept keeps account of where moving has driven a control.
type swept struct {
	// The sound side's own, in the engine's unit.
	least, most, last float64
	limited, fresh    bool

	// Told to the desk, as the bits of a float64.
	toldLeast, toldMost, toldNow atomic.Uint64
	toldLimited, told            atomic.Bool
}

func (s *swept) begin(at float64) {
	s.least, s.most, s.last, s.limited = at, at, at, false
}

// stand notes that the control stands still at x, unmoved.
func (s *swept) stand(x float64) {
	s.begin(x)
	s.fresh = true
}

// publish tells the desk, if there is news.
func (s *swept) publish() {
	if !s.fresh {
		return
	}
	s.fresh = false
	s.tell(&s.toldLeast, s.least)
	s.tell(&s.toldMost, s.most)
	s.tell(&s.toldNow, s.last)
	if s.limited != s.toldLimited.Load() {
		s.toldLimited.Store(s.limited)
	}
	if !s.told.Load() {
		s.told.Store(true)
	}
}

// tell stores x if it is another value: a store that the desk can see costs
// several times what a look does.
func (s *swept) tell(where *atomic.Uint64, x float64) {
	if bits := math.Float64bits(x); where.Load() != bits {
		where.Store(bits)
	}
}

// again begins the swept range again where the control stands, and tells it.
func (c *control) again() {
	c.swept.begin(c.swept.last)
	c.swept.fresh = true
	c.swept.publish()
	c.kept = false // so that a cord which still pushes beyond the range is noticed anew
}

// Swept returns the lowest value, the value now and the highest value that a
// control has had since ResetSwept, or since the graph was swapped in, in the
// unit in which its setting is written: the lowest and highest of all voices, and
// that of the voice which was started last. It is not ok for a control that does not
// exist, that no cord moves, or that has not sounded yet.
func (e *Engine) Swept(module, control string) (lo, now, hi float64, ok bool) {
	e.desk.Lock()
	defer e.desk.Unlock()
	c, spec := e.newest.control(module, control)
	if c == nil || len(c.cords) == 0 || !c.swept.told.Load() {
		return 0, 0, 0, false
	}
	unit := spec.Scales[c.deskScale].Unit
	lo, now, hi = e.newest.swept(module, control, int(e.lead.Load()))
	return toDisplay(unit, lo), toDisplay(unit, now), toDisplay(unit, hi), true
}

// swept returns where a control has been in any voice, and where it is in one of
// them, in the engine's unit.
func (g *Graph) swept(module, name string, voice int) (lo, now, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	at := 0
	g.each(module, name, func(c *control, _ *patch.Control) {
		lo = min(lo, math.Float64frombits(c.swept.toldLeast.Load()))
		hi = max(hi, math.Float64frombits(c.swept.toldMost.Load()))
		if at == 0 || at == voice {
			now = math.Float64frombits(c.swept.toldNow.Load())
		}
		at++
	})
	return lo, now, hi
}

// Limited reports whether a cord has tried to drive the control beyond its range
// since ResetSwept, in any voice.
func (e *Engine) Limited(module, control string) bool {
	e.desk.Lock()
	defer e.desk.Unlock()
	return e.newest.limited(module, control)
}

func (g *Graph) limited(module, name string) (any bool) {
	g.each(module, name, func(c *control, _ *patch.Control) { any = any || c.swept.toldLimited.Load() })
	return any
}

// Clamped reports whether a module had to limit or reset itself, or put out what
// is no number or beyond MaxSignal, since ResetSwept, in any voice.
func (e *Engine) Clamped(module string) bool {
	e.desk.Lock()
	defer e.desk.Unlock()
	at := e.newest.byName[module]
	for v := range at.count {
		if e.newest.nodes[at.of(v)].clamped.Load() {
			return true
		}
	}
	return false
}

// ResetSwept begins all swept ranges again, and clears all marks that Limited
// and Clamped report.
func (e *Engine) ResetSwept() {
	e.desk.Lock()
	defer e.desk.Unlock()
	for i := range e.newest.nodes {
		n := &e.newest.nodes[i]
		n.clamped.Store(false)
		n.again.Store(true)
	}
}
