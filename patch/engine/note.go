package engine

import (
	"math"

	"lampblack/patch/module"
)

// NoteOn starts a note: pitch in octaves from A4, velocity 0 to 1. It is heard
// from the next block on, by a voice that is free or taken over (see Voices); with
// one voice the newest note has priority. A pitch that is not finite starts
// nothing.
func (e *Engine) NoteOn(pitch, velocity float64) {
	if finite(pitch) && !math.IsNaN(velocity) {
		e.send(command{what: noteOn, pitch: pitch, velocity: clamp(velocity, 0, 1)})
	}
}

// NoteOff ends the note that NoteOn started with exactly that pitch.
func (e *Engine) NoteOff(pitch float64) { e.send(command{what: noteOff, pitch: pitch}) }

// AllOff lets go of every key and stops the memory, so that all releases run.
func (e *Engine) AllOff() { e.send(command{what: allOff}) }

// send hands c to the sound side. If that has been away for so long that there
// is no room, c is lost and all notes are let go instead, for the end of a note
// that is lost would sound for ever.
func (e *Engine) send(c command) {
	e.desk.Lock()
	defer e.desk.Unlock()
	if !e.commands.put(c) {
		e.lost.Store(true)
	}
}

// play takes up what the desk wishes and writes the notes being played into the
// sounding graph, each event of the memory on its sample.
func (e *Engine) play(n int) {
	e.takeCommands()
	if e.lost.Load() && e.lost.Swap(false) {
		e.allOff()
	}
	at := 0
	for _, event := range e.line.events(e.clock.Load(), n) {
		if event.At > at {
			e.write(at, event.At)
			at = event.At
		}
		if event.On {
			e.keys.on(held{id: event.Note, pitch: event.Pitch, velocity: event.Velocity})
		} else {
			e.keys.off(event.Note, event.Pitch)
		}
	}
	e.write(at, n)
}

// write writes the notes as they stand into samples i to j of the block.
func (e *Engine) write(i, j int) {
	e.keys.fill(e.now.notes, i, j)
	if e.leading == e.keys.newest {
		return // throughout, as in the block before
	}
	for k := i; k < j; k++ {
		e.leads[k] = uint8(e.keys.newest)
	}
	if e.leading = -1; i == 0 && j == module.MaxBlock {
		e.leading = e.keys.newest
	}
}

// takeCommands does what the desk has asked for since the last block.
func (e *Engine) takeCommands() {
	for {
		c, ok := e.commands.take()
		if !ok {
			return
		}
		switch c.what {
		case noteOn:
			e.keys.on(held{pitch: c.pitch, velocity: c.velocity})
		case noteOff:
			e.keys.off(0, c.pitch)
		case allOff:
			e.allOff()
		default:
			e.line.do(c)
		}
	}
}

func (e *Engine) allOff() {
	e.keys.allOff()
	e.line.player.Stop()
}
