package desk

import (
	"fmt"
	"math"

	"lampblack/patch/memory"
)

// MinSpeed and MaxSpeed bound how fast a memory is played.
const MinSpeed, MaxSpeed = 0.05, 20.0

// Play plays the memory from its start; while recording it ends the recording
// first.
func (s *Session) Play() {
	if s.Recording() {
		s.endRecording()
	}
	if len(s.bench.Memory.Notes) == 0 || s.bench.Memory.Length <= 0 {
		s.Notify(Notice{Place: AtMemory, Text: "the memory is empty: record something first, or play on the keys"})
		return
	}
	s.Dismiss(AtMemory)
	s.unmute()
	s.engine.Play(0)
	s.playing, s.stopping, s.asksAt = true, false, s.engine.Clock()
	s.tell(Transport)
}

// Stop stops the memory at once; what sounds goes through its release.
func (s *Session) Stop() {
	if s.Recording() {
		s.endRecording()
	}
	s.engine.Stop()
	s.playing, s.stopping = false, false
	s.tell(Transport)
}

// StopAtEnd lets the pass that is being played come to its end, even if the
// memory repeats.
func (s *Session) StopAtEnd() {
	if !s.Playing() || s.stopping {
		return
	}
	s.stopping = true
	s.engine.StopAtEnd()
	s.tell(Transport)
}

// Playing tells whether the memory is being played.
func (s *Session) Playing() bool {
	// The engine takes the command up with its next block; until then its word
	// is that of before.
	if s.playing && s.engine.Clock()-s.asksAt > int64(s.rate/20) {
		if _, on := s.engine.Position(); !on {
			s.playing, s.stopping = false, false
		}
	}
	return s.playing
}

// Stopping tells whether the memory stops at the end of its pass.
func (s *Session) Stopping() bool { return s.Playing() && s.stopping }

// PassBegan returns the engine's clock at which the newest pass of the memory
// began, in samples; it is not ok before the first.
func (s *Session) PassBegan() (clock int64, ok bool) { return s.engine.PassBegan() }

// Position returns how far the pass has come, in seconds at speed 1.
func (s *Session) Position() float64 {
	at, _ := s.engine.Position()
	return at
}

// Speed returns how fast the memory is played; it never moves the pitch.
func (s *Session) Speed() float64 {
	if s.bench.Memory.Speed == 0 {
		return 1
	}
	return s.bench.Memory.Speed
}

// SetSpeed sets the speed, clamped to MinSpeed..MaxSpeed. It is an edit.
func (s *Session) SetSpeed(speed float64) {
	if !(speed > 0) {
		return
	}
	speed = math.Round(min(max(speed, MinSpeed), MaxSpeed)*1000) / 1000
	s.Do(Edit{Name: fmt.Sprintf("set speed to %g x", speed), Merge: "speed", Apply: func(b *Bench) error {
		b.Memory.Speed = speed
		return nil
	}})
}

// Repeat tells whether the memory is played pass after pass.
func (s *Session) Repeat() bool { return s.bench.Memory.Repeat }

// ToggleRepeat switches repeating. It is an edit.
func (s *Session) ToggleRepeat() {
	name := "repeat the memory"
	if s.Repeat() {
		name = "play the memory once"
	}
	s.Do(Edit{Name: name, Apply: func(b *Bench) error {
		b.Memory.Repeat = !b.Memory.Repeat
		return nil
	}})
}

// Recording tells whether what is played is being recorded.
func (s *Session) Recording() bool { return s.recorder != nil }

// ToggleRecord begins a recording, or ends it and puts it into the memory. It
// begins with the first note that is played.
func (s *Session) ToggleRecord() {
	if s.Recording() {
		s.endRecording()
		return
	}
	s.Stop()
	s.Dismiss(AtMemory)
	s.recorder = &memory.Recorder{}
	s.waiting = true
	s.tell(Transport)
}

// Waiting tells whether a recording waits for its first note.
func (s *Session) Waiting() bool { return s.recorder != nil && s.waiting }

// RecordedSeconds returns how long the recording has run.
func (s *Session) RecordedSeconds() float64 {
	if s.recorder == nil || s.waiting {
		return 0
	}
	return float64(s.engine.Clock()-s.recordStart) / float64(s.rate)
}

func (s *Session) endRecording() {
	recorder, waiting := s.recorder, s.waiting
	s.recorder, s.waiting = nil, false
	defer s.tell(Transport)
	if waiting {
		s.Notify(Notice{Place: AtMemory, Text: "nothing was played: the memory is as it was"})
		return
	}
	m := recorder.Stop(s.engine.Clock())
	m.Speed, m.Repeat = s.bench.Memory.Speed, s.bench.Memory.Repeat
	s.Do(SetMemory(fmt.Sprintf("record %d notes", len(m.Notes)), m))
}

// NoteOn plays a note: pitch in octaves (0 = A4), velocity 0 to 1. It is
// recorded while recording, and fills the armed rest.
func (s *Session) NoteOn(pitch, velocity float64) {
	if s.recorder == nil {
		s.Dismiss(AtMemory)
	}
	s.unmute()
	s.engine.NoteOn(pitch, velocity)
	if s.recorder != nil {
		at := s.engine.Clock()
		if s.waiting {
			s.waiting, s.recordStart = false, at
			s.recorder.Start(at, s.rate)
			s.tell(Transport)
		}
		s.recorder.NoteOn(pitch, velocity, at)
		return
	}
	if i := s.armed; i >= 0 {
		s.armed = -1
		name := fmt.Sprintf("fill the rest with %s", memory.PitchName(pitch))
		s.Do(Edit{Name: name, Apply: func(b *Bench) error {
			if i >= len(b.Memory.Notes) || !b.Memory.Notes[i].Rest {
				return refuse(AtMemory, "the rest is not there any more; nothing was filled")
			}
			b.Memory = b.Memory.Fill(i, pitch, velocity)
			return nil
		}})
		s.tell(Transport)
	}
}

// NoteOff lets a note go.
func (s *Session) NoteOff(pitch float64) {
	s.engine.NoteOff(pitch)
	if s.recorder != nil && !s.waiting {
		s.recorder.NoteOff(pitch, s.engine.Clock())
	}
}

// EraseNote leaves a rest in place of note i.
func (s *Session) EraseNote(i int) {
	if i < 0 || i >= len(s.bench.Memory.Notes) {
		return
	}
	name := "erase " + memory.PitchName(s.bench.Memory.Notes[i].Pitch)
	s.Do(Edit{Name: name, Apply: func(b *Bench) error {
		b.Memory = b.Memory.Erase(i)
		return nil
	}})
}

// FillRest arms rest i: the next note that is played goes there. -1 disarms.
func (s *Session) FillRest(i int) {
	if i >= len(s.bench.Memory.Notes) || i >= 0 && !s.bench.Memory.Notes[i].Rest {
		return
	}
	s.armed = max(i, -1)
	s.tell(Transport)
}

// Armed returns the rest that the next note fills, or -1.
func (s *Session) Armed() int { return s.armed }

// Panic lets every note go, stops the memory and the audition, and fades out.
// The next note is heard again.
func (s *Session) Panic() {
	s.Stop()
	s.StopAudition()
	s.engine.AllOff()
	s.MuteOutput(true)
}
