// Package timing counts how long the window and the sound thread take.
//
//	toolkit paints -> Frame ─┐
//	pulse          -> Beat  ─┼─> histograms -> Report, as JSON
//	sound thread   -> Block ─┘
//
// It counts only while it is switched on: the window does that while the memory
// plays, since nothing has to keep up while the page rests. It knows no toolkit
// and no device. Held by tests: a histogram's figures are those of the sorted
// list, counting neither allocates nor waits, and intervals across a pause are
// left out.
package timing

import (
	"sync/atomic"
	"time"
)

// Counts is everything that is counted of one run of the program. Start, Stop,
// Frame, Painted and Beat belong to the goroutine of the user interface, Block to
// the sound thread; Report may be called by anybody.
type Counts struct {
	on      atomic.Bool
	began   time.Time
	counted time.Duration // before began

	frames   Histogram // between frames
	painting Histogram // of a frame, from its first object to its last
	first    time.Time // when the frame's first object was painted
	last     time.Time // when the frame before was painted; zero after a pause

	beats  Histogram
	parts  map[string]*Histogram
	order  []string // of the parts, as they came first
	within map[string]time.Duration

	render   Histogram    // of a block of sound: rendering it
	ready    Histogram    // of a block: from when it could begin until it was there
	late     atomic.Int64 // blocks that were there later than their deadline
	size     atomic.Int64 // samples of a block
	rate     atomic.Int64
	deadline atomic.Int64 // ns
	device   atomic.Bool  // the blocks were those of a device
}

// New returns Counts that stand still.
func New() *Counts {
	return &Counts{parts: map[string]*Histogram{}, within: map[string]time.Duration{}}
}

// Run counts from now on, or no longer.
func (c *Counts) Run(on bool) {
	if on == c.on.Load() {
		return
	}
	if on {
		c.began, c.last = time.Now(), time.Time{}
	} else {
		c.counted += time.Since(c.began)
	}
	c.on.Store(on)
}

// Running tells whether anything is counted now.
func (c *Counts) Running() bool { return c.on.Load() }

// Begun is called when the first object of a frame is painted, Painted when the
// last one is.
func (c *Counts) Begun() { c.first = time.Now() }

// Painted counts a frame.
func (c *Counts) Painted() {
	if !c.on.Load() {
		return
	}
	now := time.Now()
	if !c.last.IsZero() {
		c.frames.Add(now.Sub(c.last))
	}
	c.last = now
	if !c.first.IsZero() {
		c.painting.Add(now.Sub(c.first))
	}
}

// Part counts what a part of the window did within a beat.
func (c *Counts) Part(name string, took time.Duration) {
	if _, known := c.parts[name]; !known {
		c.parts[name] = &Histogram{}
		c.order = append(c.order, name)
	}
	c.within[name] += took
}

// Beat counts a beat of the pulse, with what its parts did in it.
func (c *Counts) Beat(took time.Duration) {
	if c.on.Load() {
		c.beats.Add(took)
		for name, part := range c.within {
			c.parts[name].Add(part)
		}
	}
	clear(c.within)
}

// Block counts a block of sound, n samples at rate a second: rendering took
// took, and it was there ready after it could have begun. device tells that a
// device asked for it; otherwise a clock did. Its deadline is the time that it
// lasts. It neither allocates nor waits.
func (c *Counts) Block(n, rate int, took, ready time.Duration, device bool) {
	if !c.on.Load() {
		return
	}
	deadline := time.Duration(n) * time.Second / time.Duration(rate)
	c.size.Store(int64(n))
	c.rate.Store(int64(rate))
	c.deadline.Store(int64(deadline))
	c.device.Store(device)
	c.render.Add(took)
	c.ready.Add(ready)
	if ready > deadline {
		c.late.Add(1)
	}
}
