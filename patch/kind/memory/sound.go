package memory

import (
	"lampblack/patch/dsp/lanes"
	"lampblack/patch/module"
)

// The controls that are heard here, by their place in words; the engine heeds
// the others.
const (
	spread = 3
	glide  = 4
)

type sound struct {
	rate float64 // samples a second
	side float64 // of this voice, -1 to +1

	begun bool    // whether there has been a first sample
	pitch float64 // without the spread
	from  float64 // where the glide set out
	goal  float64 // where it ends: the note's pitch
	done  float64 // how much of its time is over, 0 to 1
}

func newSound(s module.Setup) module.Sound { return &sound{rate: s.Rate, side: s.Side, done: 1} }

// Resume goes on where from stands, whatever its place among the voices.
func (s *sound) Resume(from module.Sound) {
	if f, ok := from.(*sound); ok {
		side := s.side
		*s = *f
		s.side = side
	}
}

// Block gives out the note being played.
func (s *sound) Block(b *module.Block) {
	s.glide(b.Out[0][:b.N], b.Played, b.Controls[glide].V)
	if s.side != 0 {
		apart(b.Out[0][:b.N], b.Controls[spread].V, s.side/2)
	}
	copy(b.Out[1][:b.N], b.Played.Gate)
	copy(b.Out[2][:b.N], b.Played.Trigger)
	copy(b.Out[3][:b.N], b.Played.Eased)
	lanes.Fill(b.Out[4][:b.N], s.side)
}

// glide gives the pitch on its way to the note's.
func (s *sound) glide(out []float64, note *module.Played, time []float64) {
	if s.rests(note, len(out)) {
		lanes.Fill(out, note.Pitch[0])
		return
	}
	for i := range out {
		p := note.Pitch[i]
		if struck := note.Trigger[i] != 0; p != s.goal || struck || !s.begun {
			s.aim(p, note.Before[i], struck)
		}
		out[i] = p
		if s.done < 1 {
			out[i] = s.step(float64(time[i] * s.rate))
		}
	}
}

// rests reports whether nothing happens throughout the next n samples, as mostly.
func (s *sound) rests(note *module.Played, n int) bool {
	return s.begun && s.done >= 1 && note.Trigger[0] == 0 && note.Pitch[0] == s.goal &&
		lanes.Same(note.Trigger[:n]) && lanes.Same(note.Pitch[:n])
}

// aim begins a glide to p. A note sets out from the pitch of the one before, or,
// if this voice was on its way there, from where it stands.
func (s *sound) aim(p, before float64, struck bool) {
	here := s.pitch
	if s.done >= 1 {
		here = s.goal
	}
	switch {
	case struck && (!s.begun || before != s.goal):
		here = before
	case !s.begun:
		here = p
	}
	s.begun = true
	s.pitch, s.from, s.goal, s.done = here, here, p, 0
	if here == p {
		s.done = 1
	}
}

// step returns the pitch, and goes on by one of the samples that a whole glide
// takes.
func (s *sound) step(samples float64) float64 {
	if samples < 1 {
		s.done = 1
		return s.goal
	}
	s.pitch = s.from + float64(s.done*(s.goal-s.from))
	s.done = min(s.done+1/samples, 1)
	return s.pitch
}

// apart adds the voice's share of the spread.
func apart(pitch, spread []float64, share float64) {
	for i := range pitch {
		pitch[i] += float64(spread[i] * share)
	}
}
