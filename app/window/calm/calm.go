// Package calm sees to it that no picture of the program flashes.
//
//	frames that were drawn -> luminance of each cell -> rises and falls over an area -> wait, or draw
//
// WCAG 2.2, 2.3.1, allows three general flashes in a second over more than a
// quarter of any 10 degrees of the visual field, which it takes as a rectangle of
// 341 x 256 pixels of a screen of 1024 x 768. A flash is a pair of opposing changes
// of relative luminance by a tenth of its range or more, the darker state below
// 0.80. Guard looks at what is drawn, and where it comes near that, lets the next
// picture wait: 400 ms apart, pictures can't flash more than 1.25 times a second.
//
// It knows no instrument. Held by tests: a field that flickers at any
// rate keeps within the limit, a trace that jumps and a pattern that drifts are
// not held up.
package calm

import (
	"image"
	"image/color"
	"math"
	"time"
)

// The limits of WCAG 2.2, "general flash and red flash thresholds".
const (
	Change  = 0.1  // of relative luminance, up and down again
	Darker  = 0.8  // above it two states do not count
	Flashes = 3    // in any second, at most
	Width   = 341  // of the rectangle that stands for 10 degrees, in units of the screen
	Height  = 256  //
	Part    = 0.25 // of it
)

// Cell is the side of a cell, in units of the screen: a quarter of a degree. What
// is finer than 0.1 degree does not count if it is balanced; here nothing does
// that is finer than a cell, which has its mean.
const Cell = 8

// hold is how long a picture stays where it would flash, and tolerated is how
// many changes there may have been in the last second: four at once and two
// more, held apart, make three flashes.
const (
	hold      = 400 * time.Millisecond
	tolerated = 2*Flashes - 2
)

var started = time.Now()

// Clock is the time by which pictures wait; tests have another.
var Clock = func() time.Duration { return time.Since(started) }

// together is how long after one picture those beside it may be drawn in the same
// turn.
const together = hold / 8

// Turns are those of pictures beside each other: they wait together, or one would
// rise while the other is held, and a person sees both. The zero value is ready.
type Turns struct {
	begun   time.Duration // when the last frame of any of them was drawn
	changes []time.Duration
}

// Guard watches one picture. The zero value is ready. One goroutine uses it.
type Guard struct {
	Turns *Turns // shared with the pictures beside it; nil is its own
	own   Turns
	meter Meter
	drawn time.Duration // when the last frame was
	late  bool
}

// Waits tells whether the next picture has to wait at a time: from any zero, but
// it must not run backwards.
func (g *Guard) Waits(now time.Duration) bool {
	g.late = g.held(now)
	return g.late
}

func (g *Guard) turns() *Turns {
	if g.Turns == nil {
		return &g.own
	}
	return g.Turns
}

func (g *Guard) held(now time.Duration) bool {
	t := g.turns()
	t.forget(now)
	beside := g.drawn < t.begun && now-t.begun < together // another has begun this turn
	return len(t.changes) >= tolerated && now-t.begun < hold && !beside
}

// Late tells whether a picture has waited, and need wait no more.
func (g *Guard) Late(now time.Duration) bool { return g.late && !g.held(now) }

// Saw takes a frame that was drawn: unit is how many of its pixels a unit of the
// screen has, ground what lies below where it lets light through.
func (g *Guard) Saw(frame *image.RGBA, ground color.NRGBA, unit float64, now time.Duration) {
	t := g.turns()
	t.forget(now)
	if now-t.begun >= together {
		t.begun = now
	}
	g.drawn, g.late = now, false
	if g.Turns != nil { // two that each stay just below it may meet
		g.meter.part = Part / 2
	}
	if g.meter.Saw(frame, ground, unit) {
		t.changes = append(t.changes, now)
	}
}

func (t *Turns) forget(now time.Duration) {
	kept := t.changes[:0]
	for _, at := range t.changes {
		if now-at < time.Second {
			kept = append(kept, at)
		}
	}
	t.changes = kept
}

// Meter measures how frames change. The zero value is ready.
type Meter struct {
	Rises, Falls float64 // the largest area that rose, or fell, with the last frame, as a part of the rectangle

	part       float64 // that counts as a change; 0 is Part
	size       image.Point
	unit       float64
	wide, high int // cells
	cells      []cell
	first      bool    // no frame has been seen yet
	rising     []int32 // cells that rose with this frame, summed from the corner
	falling    []int32
	went       int // 1 if the last change over an area was up, -1 if it was down
	light      *[256]float32
	across     []int // the pixels that are looked at: their places in a line, and lines
	down       []int
}

// cell is how a place has changed.
type cell struct {
	low, high float32 // since it changed its direction
	went      int8    // 1 up, -1 down, 0 not yet
}

// Saw takes a frame; it reports whether an area larger than allowed changed with
// it, and the other way than before.
func (m *Meter) Saw(frame *image.RGBA, ground color.NRGBA, unit float64) bool {
	m.fit(frame.Bounds().Size(), unit)
	clear(m.rising)
	clear(m.falling)
	blank := m.shade(ground.R, ground.G, ground.B)
	for y := range m.high {
		for x := range m.wide {
			m.see(x, y, m.luminance(frame, ground, blank, x, y))
		}
	}
	m.first = false
	m.Rises, m.Falls = m.largest(m.rising), m.largest(m.falling)
	part := m.part
	if part == 0 {
		part = Part
	}
	switch {
	case m.Rises > part && m.went != 1:
		m.went = 1
	case m.Falls > part && m.went != -1:
		m.went = -1
	default:
		return false
	}
	return true
}

// fit makes room for a frame of that size.
func (m *Meter) fit(size image.Point, unit float64) {
	if m.light == nil {
		m.light = new([256]float32)
		for i := range m.light {
			m.light[i] = float32(linear(float64(i) / 255))
		}
	}
	if size == m.size && unit == m.unit {
		return
	}
	m.size, m.unit = size, unit
	m.wide, m.high = int(math.Ceil(float64(size.X)/unit/Cell)), int(math.Ceil(float64(size.Y)/unit/Cell))
	m.cells = make([]cell, m.wide*m.high)
	m.rising, m.falling = make([]int32, (m.wide+1)*(m.high+1)), make([]int32, (m.wide+1)*(m.high+1))
	m.first, m.went = true, 0
	m.across, m.down = points(m.wide, size.X, unit, 4), points(m.high, size.Y, unit, 1)
}

// points returns the places that are looked at in so many cells, each times step.
// Those of a cell that are beyond the edge lie on it.
func points(cells, pixels int, unit float64, step int) []int {
	all := make([]int, cells*looks)
	for i := range all {
		at := int((float64(i) + 0.5) / looks * Cell * unit)
		all[i] = min(at, pixels-1) * step
	}
	return all
}

// linear is the light of a value of sRGB, 0 to 1 (IEC 61966-2-1).
func linear(s float64) float64 {
	if s <= 0.04045 {
		return s / 12.92
	}
	return math.Pow((s+0.055)/1.055, 2.4)
}

// looks is how many points of a cell are looked at, across and up.
const looks = 4

// luminance is the mean relative luminance of a cell. blank is that of what lets
// all light through.
func (m *Meter) luminance(frame *image.RGBA, ground color.NRGBA, blank float32, x, y int) float32 {
	sum := float32(0)
	for _, py := range m.down[y*looks : (y+1)*looks] {
		line := frame.Pix[py*frame.Stride:]
		for _, px := range m.across[x*looks : (x+1)*looks] {
			p := line[px : px+4 : px+4]
			if p[3] == 0 {
				sum += blank
				continue
			}
			through := 255 - uint32(p[3])
			r, g, b := p[0]+uint8(uint32(ground.R)*through/255), p[1]+uint8(uint32(ground.G)*through/255), p[2]+uint8(uint32(ground.B)*through/255)
			sum += m.shade(r, g, b)
		}
	}
	return sum / (looks * looks)
}

// shade is the relative luminance of a colour of sRGB.
func (m *Meter) shade(r, g, b uint8) float32 {
	return 0.2126*m.light[r] + 0.7152*m.light[g] + 0.0722*m.light[b]
}

// see takes the luminance of a cell.
func (m *Meter) see(x, y int, light float32) {
	c := &m.cells[y*m.wide+x]
	if m.first {
		*c = cell{low: light, high: light}
		return
	}
	c.low, c.high = min(c.low, light), max(c.high, light)
	switch at := (y+1)*(m.wide+1) + x + 1; {
	case c.went <= 0 && light-c.low >= Change && c.low < Darker:
		c.went, c.high = 1, light
		m.rising[at] = 1
	case c.went >= 0 && c.high-light >= Change && light < Darker:
		c.went, c.low = -1, light
		m.falling[at] = 1
	}
}

// largest returns how much of the rectangle of 10 degrees the cells that are set
// fill, wherever that is most. It sums them up from the corner.
func (m *Meter) largest(set []int32) float64 {
	row := m.wide + 1
	for y := 1; y <= m.high; y++ {
		for x := 1; x <= m.wide; x++ {
			set[y*row+x] += set[(y-1)*row+x] + set[y*row+x-1] - set[(y-1)*row+x-1]
		}
	}
	wide, high := min(Width/Cell, m.wide), min(Height/Cell, m.high)
	most := int32(0)
	for y := high; y <= m.high; y++ {
		for x := wide; x <= m.wide; x++ {
			most = max(most, set[y*row+x]-set[(y-high)*row+x]-set[y*row+x-wide]+set[(y-high)*row+x-wide])
		}
	}
	return float64(most) * Cell * Cell / (Width * Height)
}
