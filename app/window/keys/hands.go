package keys

import (
	"maps"
	"slices"
)

// Player is what hands play on: the session.
type Player interface {
	NoteOn(pitch, velocity float64) // octaves from A4; 0 to 1
	NoteOff(pitch float64)
}

// Hands turns keys pressed and released into notes. It is used by one
// goroutine. A key held down sounds once, however often the system repeats it,
// and a key released ends the pitch it started, whatever moved meanwhile.
type Hands struct {
	Velocity float64 // of the notes played, 0 to 1; 0 counts as 0.8
	player   Player
	octave   int
	held     map[Place]float64
}

// NewHands returns hands that play on p.
func NewHands(p Player) *Hands { return &Hands{player: p, held: map[Place]float64{}} }

// Octave returns how many octaves the strings are moved.
func (h *Hands) Octave() int { return h.octave }

// Shift moves the strings by a number of octaves, within LowestOctave and
// HighestOctave. Notes already held stay as they are.
func (h *Hands) Shift(octaves int) {
	h.octave = min(max(h.octave+octaves, LowestOctave), HighestOctave)
}

// Press plays the key at a place. It reports false if the key is down already.
func (h *Hands) Press(at Place) bool {
	if _, down := h.held[at]; down {
		return false
	}
	pitch := Pitch(at, h.octave)
	h.held[at] = pitch
	velocity := h.Velocity
	if velocity == 0 {
		velocity = 0.8
	}
	h.player.NoteOn(pitch, velocity)
	return true
}

// Release ends the note of the key at a place, if it sounds.
func (h *Hands) Release(at Place) {
	pitch, down := h.held[at]
	if !down {
		return
	}
	delete(h.held, at)
	if !h.sounds(pitch) { // two strings can hold the same pitch: the last one ends it
		h.player.NoteOff(pitch)
	}
}

// ReleaseAll ends every note: the window lost the keyboard, or a text gets it.
func (h *Hands) ReleaseAll() {
	for at := range h.held {
		h.Release(at)
	}
}

// Held returns how many keys are down.
func (h *Hands) Held() int { return len(h.held) }

func (h *Hands) sounds(pitch float64) bool {
	for _, p := range h.held {
		if p == pitch {
			return true
		}
	}
	return false
}

// mouse is the place of the note that the mouse plays.
var mouse = Place{Row: -1}

// Touch plays a pitch with the mouse; one that it plays already ends first.
func (h *Hands) Touch(pitch, velocity float64) {
	if now, down := h.held[mouse]; down && now == pitch {
		return
	}
	h.Release(mouse)
	h.held[mouse] = pitch
	h.player.NoteOn(pitch, velocity)
}

// Lift ends the note that the mouse plays.
func (h *Hands) Lift() { h.Release(mouse) }

// Pitches returns the pitches that are held, in octaves from A4, from the
// lowest up.
func (h *Hands) Pitches() []float64 {
	pitches := slices.Sorted(maps.Values(h.held))
	return slices.Compact(pitches)
}
