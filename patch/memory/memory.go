// Package memory holds recorded notes and plays them at any speed.
//
//	keys -> Recorder -> Memory -> Player -> events on their exact sample
//
// Times are seconds of the pass at speed 1, pitches octaves from A4; the speed
// never moves the pitch. It knows no patch, no screen and no sound device.
// Held by tests: an erased note leaves its rest, a rest can be filled, events
// land on their sample, what is read comes back unchanged.
package memory

import "slices"

// Memory is one lane of recorded notes. It is a plain value; the zero value is
// an empty memory of no length.
type Memory struct {
	Length float64 // of one pass at speed 1, in seconds, 0 to 3600
	Speed  float64 // passes are played Speed times as fast, 0.05 to 20; 0 counts as 1
	Repeat bool    // play pass after pass; otherwise stop at the end of the pass
	Notes  []Note  // by rising At
}

// Note is a recorded note, or the rest that an erased note left.
type Note struct {
	At       float64 // start within the pass at speed 1, in seconds
	For      float64 // how long the gate is held at speed 1, in seconds, > 0
	Pitch    float64 // octaves, 0 = A4 = 440 Hz
	Velocity float64 // 0 to 1
	Rest     bool    // erased: the place stays, and can be filled
}

// Clone returns a copy that shares nothing with m.
func (m Memory) Clone() Memory {
	m.Notes = slices.Clone(m.Notes)
	return m
}
