package engine

import (
	"math"
	"sync/atomic"

	"lampblack/patch/memory"
)

// maxEvents is how many starts and ends of notes one chunk takes up; what the
// memory has beyond comes in the next chunk, late but not lost.
const maxEvents = 1024

// transport is the sound side's hold on the memory.
type transport struct {
	player memory.Player
	buffer [maxEvents]memory.Event
	began  int64 // clock of the first sample of the newest pass, plus 1; 0: there was none
}

// events plays the next n samples, of which the first has that clock.
func (t *transport) events(clock int64, n int) []memory.Event {
	events := t.player.Events(n, t.buffer[:0:maxEvents])
	if at, ok := t.player.Began(); ok {
		t.began = clock + int64(at) + 1
	}
	return events
}

func (t *transport) do(c command) {
	switch c.what {
	case loadMemory:
		t.player.Use(c.pass)
	case playFrom:
		t.player.Play(c.seconds)
	case stopNow:
		t.player.Stop()
	case stopAtEnd:
		t.player.StopAtEnd()
	}
}

// where is where the memory stands, told to the desk.
type where struct {
	seconds atomic.Uint64 // the bits of a float64
	playing atomic.Bool
	began   atomic.Int64 // as in transport
}

func (t *transport) publish(p *where) {
	p.seconds.Store(math.Float64bits(t.player.Position()))
	p.playing.Store(t.player.Playing())
	p.began.Store(t.began)
}

// SetMemory makes m the memory to play. While one plays, its place is kept and m
// goes on from there: a note that sounds and is the same in m is held on. An
// error tells every fault of m; the memory before stays.
func (e *Engine) SetMemory(m memory.Memory) error {
	pass, err := memory.Prepare(m, float64(e.rate))
	if err != nil {
		return err
	}
	e.send(command{what: loadMemory, pass: pass})
	return nil
}

// Play plays the memory from seconds of the pass at speed 1, or goes on from
// there if it plays already. A note that began before is not started.
func (e *Engine) Play(from float64) { e.send(command{what: playFrom, seconds: from}) }

// Stop stops the memory and ends its notes; their releases run, and live keys
// stay held.
func (e *Engine) Stop() { e.send(command{what: stopNow}) }

// StopAtEnd lets the memory come to the end of the pass and stops it there, even
// if it repeats.
func (e *Engine) StopAtEnd() { e.send(command{what: stopAtEnd}) }

// Position returns the place in the pass, in seconds at speed 1, and whether the
// memory was playing, both at the end of the last Block.
func (e *Engine) Position() (seconds float64, playing bool) {
	return math.Float64frombits(e.place.seconds.Load()), e.place.playing.Load()
}

// PassBegan returns the clock of the sample at which the memory's newest pass
// began: it was played from its start, or repeated. It is not ok before the first.
func (e *Engine) PassBegan() (clock int64, ok bool) {
	began := e.place.began.Load()
	return began - 1, began > 0
}
