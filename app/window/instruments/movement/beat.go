package movement

import (
	"fmt"
	"strings"

	"lampblack/app/desk"
	"lampblack/patch"
	"lampblack/patch/engine"
)

// How often things are done, in seconds of the engine's clock.
const (
	betweenLarge   = 1.0 / 35
	betweenTraces  = 1.0 / 20
	betweenFigures = 0.2 // what changes faster can't be read
	betweenOrders  = 3.0 // rows must not run away from under a hand
)

// Beat is plate.Plate's: it reads what has come, and has drawn what has changed.
func (p *Plate) Beat() {
	p.shapes.late()
	p.enlarged.late()
	if p.o.Frozen() {
		return
	}
	if p.stale {
		p.sync()
	}
	fresh := false
	for _, r := range p.rows {
		if r.tap = p.session.TapControl(r.At); r.tap != nil && r.history.read(r.tap, p.meter.buffer) {
			fresh = true
		}
	}
	p.beatCauses()
	if !fresh && p.words != "" {
		return
	}
	clock := p.session.Engine().Clock()
	p.measureOne(clock)
	if p.due(&p.drawn, clock, betweenTraces) {
		p.shapes.raster.Refresh()
	}
	if p.due(&p.drawnLarge, clock, betweenLarge) {
		p.enlarged.raster.Refresh()
	}
	if p.due(&p.written, clock, betweenFigures) {
		p.read()
		if p.byReach && clock-p.ordered > int64(betweenOrders*p.meter.rate) {
			p.order()
		}
		if words := p.text(); words != p.words {
			p.words = words
			p.o.Refresh()
		}
	}
}

// due tells whether something is to be done again, and notes that it is.
func (p *Plate) due(last *int64, clock int64, seconds float64) bool {
	if clock-*last < int64(seconds*p.meter.rate) && *last > 0 {
		return false
	}
	*last = max(clock, 1)
	return true
}

// read takes the figures of all rows.
func (p *Plate) read() {
	for _, r := range p.rows {
		r.least, r.now, r.most, r.moved = p.session.Swept(r.At.Module, r.At.Name)
		r.limited = p.session.Limited(r.At.Module, r.At.Name)
	}
}

// measureOne measures the rate of the next row whose turn it is, or of the next
// source of the chosen one: one at a beat, so that no beat is long.
func (p *Plate) measureOne(clock int64) {
	var list []desk.Cause
	if p.causes != nil {
		list = p.causes.List()
	}
	all := len(p.rows) + len(list)
	measure := func(h *history, t *engine.Tap, r *rate, since *int64) bool {
		if clock-*since < int64(waits*p.meter.rate) {
			return false
		}
		*r, *since = p.meter.measure(h, t), clock
		return true
	}
	for range all {
		p.turn = (p.turn + 1) % all
		if n := p.turn - len(p.rows); n >= 0 {
			if s := p.sources[list[n].Cord.From]; s != nil && measure(s.history, s.tap, &s.rate, &s.measured) {
				return
			}
		} else if r := p.rows[p.turn]; measure(r.history, r.tap, &r.rate, &r.measured) {
			return
		}
	}
}

// beatCauses follows the cords of the chosen row.
func (p *Plate) beatCauses() {
	if p.at() < 0 {
		p.causes = nil
		return
	}
	if p.causes == nil {
		p.causes, p.sources = p.session.NewCauses(p.chosen), map[patch.Socket]*source{}
	}
	p.causes.Read()
	for _, c := range p.causes.List() {
		s := p.sources[c.Cord.From]
		if s == nil {
			s = &source{history: newHistory()}
			p.sources[c.Cord.From] = s
		}
		if s.tap = p.session.Tap(c.Cord.From); s.tap != nil {
			s.history.read(s.tap, p.meter.buffer)
		}
	}
}

// text is all that is written in figures, to see whether it has changed.
func (p *Plate) text() string {
	var b strings.Builder
	for _, r := range p.seenRows() {
		fmt.Fprint(&b, r.At, r.value(r.least), r.value(r.now), r.value(r.most), r.limited, r.rate.words(r.origin), ";")
	}
	if p.causes != nil {
		for _, c := range p.causes.List() {
			fmt.Fprintf(&b, "%v %.3f %.3f %.3f %.3f %.2f %s;", c.Worked, c.Least, c.Most, c.DidLeast, c.DidMost, c.Share, p.sourceRate(c.Cord))
		}
	}
	return b.String()
}

// sourceRate tells how the signal of a cord moves.
func (p *Plate) sourceRate(c patch.Cord) string {
	s := p.sources[c.From]
	if s == nil {
		return ""
	}
	return s.rate.words(originOf(p.session.Patch(), []patch.Cord{c}))
}

// seenRows are those that are within the table.
func (p *Plate) seenRows() []*row {
	from := min(p.first, len(p.rows))
	return p.rows[from:min(from+p.fitting, len(p.rows))]
}

// value writes a value of a row's control.
func (r *row) value(v float64) string {
	if !r.moved {
		return ""
	}
	if c := r.scale.Choices; c != nil {
		return c[min(max(int(v+0.5), 0), len(c)-1)]
	}
	return patch.FormatValue(v, r.scale.Unit)
}

// shown returns a value of the row's control out of what its tap reads.
func (r *row) shown(v float32) float64 { return engine.InUnit(r.scale.Unit, float64(v)) }
