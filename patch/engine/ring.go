package engine

import (
	"sync/atomic"

	"lampblack/patch/memory"
)

// ringSize is how many commands can wait; a power of two. At 1,000 commands a
// second the sound side may be away for a second.
const ringSize = 1024

// command is one wish of the desk.
type command struct {
	what            what
	pitch, velocity float64
	seconds         float64
	pass            *memory.Pass
}

type what uint8

const (
	noteOn what = iota
	noteOff
	allOff
	playFrom
	stopNow
	stopAtEnd
	loadMemory
)

// ring carries commands from the desk (one writer at a time, under the desk's
// lock) to the sound side (one reader). The zero value is empty.
type ring struct {
	written, read atomic.Uint64
	slots         [ringSize]command
}

// put reports whether there was room for c.
func (r *ring) put(c command) bool {
	w := r.written.Load()
	if w-r.read.Load() == ringSize {
		return false
	}
	r.slots[w%ringSize] = c
	r.written.Store(w + 1)
	return true
}

// take returns the oldest command, if any.
func (r *ring) take() (command, bool) {
	t := r.read.Load()
	if t == r.written.Load() {
		return command{}, false
	}
	slot := &r.slots[t%ringSize]
	c := *slot
	slot.pass = nil // an old memory is not kept alive by its command
	r.read.Store(t + 1)
	return c, true
}
