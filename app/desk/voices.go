package desk

import "lampblack/patch/engine"

// Voices tells how the bench sounds several notes at once, and which of its
// modules are there once for every voice.
func (s *Session) Voices() engine.Voices { return engine.VoicesOf(s.bench.Patch, nil) }

// ClearMarks begins all swept ranges again, and lets go of what Clamped tells.
// A module that still has to limit itself is marked again at once.
func (s *Session) ClearMarks() {
	s.sweeps++
	s.engine.ResetSwept()
}
