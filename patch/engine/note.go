package engine

import (
	"math"

	"lampblack/patch/module"
)

// maxHeld is how many notes can be held at once; of more, the oldest is let go.
const maxHeld = 128

// held is a note whose key is down.
type held struct {
	id       int // the memory's number of the note, or 0 for a live key
	pitch    float64
	velocity float64
}

// keys turns starts and ends of notes into the one note that a patch hears. The
// newest note held is heard; when it ends, the one before is heard again, without
// a trigger. Pitch and velocity stay after the last note has ended, so that a
// release sounds at its own pitch.
type keys struct {
	held    [maxHeld]held
	count   int
	pitch   float64
	level   float64 // velocity of the note that was last started
	trigger bool    // a note starts at this very sample
}

func (k *keys) reset() { k.count, k.pitch, k.level, k.trigger = 0, 0, 1, false }

// on starts a note.
func (k *keys) on(h held) {
	if k.count == maxHeld {
		copy(k.held[:], k.held[1:])
		k.count--
	}
	k.held[k.count] = h
	k.count++
	k.pitch, k.level, k.trigger = h.pitch, h.velocity, true
}

// off ends the memory's note of that number, or, with id 0, the newest live key
// of that pitch. A note that is not held is ignored.
func (k *keys) off(id int, pitch float64) {
	for i := k.count - 1; i >= 0; i-- {
		if h := &k.held[i]; h.id != id || id == 0 && h.pitch != pitch {
			continue
		}
		copy(k.held[i:k.count], k.held[i+1:k.count])
		if k.count--; k.count > 0 {
			k.pitch = k.held[k.count-1].pitch
		}
		return
	}
}

// fill writes the note into samples i to j; a trigger stands on the first.
func (k *keys) fill(p *module.Played, i, j int) {
	if i >= j {
		return
	}
	gate := 0.0
	if k.count > 0 {
		gate = 1
	}
	fill(p.Pitch[i:j], k.pitch)
	fill(p.Velocity[i:j], k.level)
	fill(p.Gate[i:j], gate)
	fill(p.Trigger[i:j], 0)
	if k.trigger {
		p.Trigger[i] = 1
		k.trigger = false
	}
}

// NoteOn starts a note: pitch in octaves from A4, velocity 0 to 1. It is heard
// from the next block on; the newest note has priority. A pitch that is not
// finite starts nothing.
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

// play takes up what the desk wishes and writes the note being played into the
// sounding graph, each event of the memory on its sample.
func (e *Engine) play(n int) {
	e.takeCommands()
	if e.lost.Load() && e.lost.Swap(false) {
		e.allOff()
	}
	note := &e.now.note
	at := 0
	for _, event := range e.line.events(n) {
		if event.At > at {
			e.keys.fill(note, at, event.At)
			at = event.At
		}
		if event.On {
			e.keys.on(held{event.Note, event.Pitch, event.Velocity})
		} else {
			e.keys.off(event.Note, event.Pitch)
		}
	}
	e.keys.fill(note, at, n)
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
			e.keys.on(held{0, c.pitch, c.velocity})
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
	e.keys.count = 0
	e.line.player.Stop()
}
