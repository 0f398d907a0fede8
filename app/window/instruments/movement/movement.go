// Package movement is the page of all that moves: why a sound does what it does.
//
//	cords of the patch -> rows -> taps of the controls -> figures, rates, traces
//
// A row is a control that cords move: its setting, its cords, the lowest and the
// highest value that they drove it to, its value now, how often a second it comes
// round again (measured), and a trace. The chosen row is drawn large, with each
// cord's share. The traces are made of every sample that the module was given, so
// that a movement of 220 Hz reads as such. Nothing is measured while the page is
// not seen. Held by tests: rates to a hundredth of a hertz, ranges and shares
// against the arithmetic of the patch, golden pictures.
package movement

import (
	"cmp"
	"slices"

	"lampblack/app/desk"
	"lampblack/app/window/calm"
	"lampblack/app/window/plate"
	"lampblack/patch"
	"lampblack/patch/engine"
)

// Options are what the page needs of the window.
type Options struct {
	Refresh func()               // has everything written anew
	Frozen  func() bool          // pictures are held
	Freeze  func() plate.Setting // the setting that holds them
	Until   func(stop func())    // takes what ends watching the session
}

// Plate is the page. Make it with New.
type Plate struct {
	session *desk.Session
	o       Options
	meter   *meter

	rows    []*row // in the order in which they stand
	chosen  patch.Socket
	first   int // of the rows that are seen
	fitting int // how many are seen
	turn    int // the row whose rate is measured next
	causes  *desk.Causes
	sources map[patch.Socket]*source // of the chosen row's cords

	byReach    bool // ordered by how far they move, not along the signal
	seconds    int  // number in times
	whole      bool // traces as high as the whole ruler, not as what they move over
	seen       bool
	stale      bool  // the patch has changed
	drawn      int64 // the engine's clock when the traces were drawn last
	drawnLarge int64 // and that of the chosen row
	written    int64 // when the figures were
	ordered    int64 // when the rows were put in order
	words      string
	shapes     *shapes
	enlarged   *shapes
	outline    []column // for a trace, while it is drawn
}

// row is a control that cords move.
type row struct {
	desk.Moved
	words    *patch.Control
	scale    *patch.Scale
	setting  patch.Setting
	origin   origin
	history  *history
	tap      *engine.Tap
	rate     rate
	measured int64 // the engine's clock when the rate was

	least, now, most float64 // in the scale's unit
	moved            bool    // these are known
	limited          bool    // a cord would have gone beyond an end
}

// source is the output of a cord into the chosen row.
type source struct {
	history  *history
	tap      *engine.Tap
	rate     rate
	measured int64
}

// New returns the page of a session.
func New(s *desk.Session, o Options) *Plate {
	p := &Plate{session: s, o: o, meter: newMeter(float64(s.Rate())), seconds: 0, stale: true}
	p.shapes, p.enlarged = newShapes(p.drawShapes), newShapes(p.drawLarge)
	p.shapes.calm.Turns = new(calm.Turns)
	p.enlarged.calm.Turns = p.shapes.calm.Turns
	o.Until(s.Watch(desk.Patch, p.follow))
	return p
}

// Name is plate.Plate's.
func (p *Plate) Name() string { return "modulation" }

// Redraw is plate.Plate's: nothing here follows the probes.
func (p *Plate) Redraw() {}

// Listed is plate.Listed's: the keyboard comes to the rows first.
func (p *Plate) Listed() {}

// Show is plate.Plate's.
func (p *Plate) Show(on bool) {
	p.seen = on
	p.causes, p.sources = nil, nil
	if !on {
		p.rows, p.stale = nil, true // what passes unseen is no part of any trace
		return
	}
	p.sync()
}

// follow is called when the patch has changed.
func (p *Plate) follow() {
	p.stale = true
	if p.seen {
		p.sync()
		p.o.Refresh()
	}
}

// sync makes the rows those of the patch; what is known of those that stay stays.
func (p *Plate) sync() {
	p.stale = false
	old := map[patch.Socket]*row{}
	for _, r := range p.rows {
		old[r.At] = r
	}
	p.rows = p.rows[:0:0]
	for _, m := range p.session.Moved() {
		r := old[m.At]
		if r == nil {
			r = &row{history: newHistory()}
		}
		r.Moved = m
		r.words = p.session.Kind(m.At.Module).Control(m.At.Name)
		r.setting, _ = p.session.Setting(m.At.Module, m.At.Name)
		scale := &r.words.Scales[max(r.words.Scale(r.setting.Unit), 0)]
		if r.scale != nil && r.scale.Unit != scale.Unit {
			r.history = newHistory() // the engine's unit may be another
		}
		r.scale = scale
		r.origin = originOf(p.session.Patch(), m.Cords)
		p.rows = append(p.rows, r)
	}
	p.order()
	if p.at() < 0 && len(p.rows) > 0 {
		p.choose(p.likely())
	}
	p.first = min(p.first, max(len(p.rows)-p.fitting, 0))
}

// likely is the row that is chosen at first: one of the module whose rulers are
// shown, or the first.
func (p *Plate) likely() int {
	for i, r := range p.rows {
		if r.At.Module == p.session.Chosen() {
			return i
		}
	}
	return 0
}

// order puts the rows in order: as they come from the patch, or by how much of
// their rulers they move over.
func (p *Plate) order() {
	p.ordered = p.session.Engine().Clock()
	if p.byReach {
		slices.SortStableFunc(p.rows, func(a, b *row) int { return cmp.Compare(b.reach(), a.reach()) })
	}
}

// reach is what part of its ruler a control moves over.
func (r *row) reach() float64 {
	if !r.moved {
		return 0
	}
	return r.scale.Fraction(r.most) - r.scale.Fraction(r.least)
}

// at is the number of the chosen row, -1 if there is none.
func (p *Plate) at() int {
	return slices.IndexFunc(p.rows, func(r *row) bool { return r.At == p.chosen })
}

// choose chooses a row and brings it into view.
func (p *Plate) choose(n int) {
	if len(p.rows) == 0 {
		return
	}
	n = min(max(n, 0), len(p.rows)-1)
	if p.chosen != p.rows[n].At {
		p.chosen, p.causes, p.sources = p.rows[n].At, nil, nil
	}
	p.first = min(p.first, n)
	if p.fitting > 0 {
		p.first = max(p.first, n-p.fitting+1)
	}
}

// open chooses the module of the chosen row on the sheet: its rulers are shown.
func (p *Plate) open() {
	if p.at() >= 0 {
		p.session.Select(desk.Selection{Modules: []string{p.chosen.Module}, Cord: -1, Note: -1})
	}
}

// scroll moves the rows that are seen by n down.
func (p *Plate) scroll(n int) {
	p.first = min(max(p.first+n, 0), max(len(p.rows)-p.fitting, 0))
	p.o.Refresh()
}
