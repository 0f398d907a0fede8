package memory

// Recorder writes down what is played. Its clock is the engine's: samples, never
// the computer's time, so that what is played back falls on the same samples.
// It is for one goroutine. The zero Recorder is ready for Start.
type Recorder struct {
	start int64
	rate  float64
	notes []Note
	held  []held
}

// held is a note whose key is down.
type held struct {
	note  int // in notes
	since int64
}

// Start begins a recording at a sample of the clock, at rate samples a second.
func (r *Recorder) Start(at int64, rate int) {
	*r = Recorder{start: at, rate: float64(rate)}
}

// NoteOn notes down that a note of that pitch (octaves from A4) and velocity (0
// to 1) starts. The same pitch, if it is still held, ends. Once MaxNotes or
// MaxLength is reached nothing more is taken; see Full.
func (r *Recorder) NoteOn(pitch, velocity float64, at int64) {
	r.NoteOff(pitch, at)
	if r.Full(at) {
		return
	}
	at = max(at, r.start)
	r.held = append(r.held, held{len(r.notes), at})
	r.notes = append(r.notes, Note{At: float64(at-r.start) / r.rate, Pitch: pitch, Velocity: velocity})
}

// NoteOff notes down that a note ends. Without such a note nothing happens.
func (r *Recorder) NoteOff(pitch float64, at int64) {
	for i, h := range r.held {
		if r.notes[h.note].Pitch == pitch {
			r.end(h, at)
			r.held = append(r.held[:i], r.held[i+1:]...)
			return
		}
	}
}

// end gives a note its length: one sample at least, and not past MaxLength.
func (r *Recorder) end(h held, at int64) {
	at = min(at, r.start+int64(MaxLength*r.rate))
	r.notes[h.note].For = float64(max(at-h.since, 1)) / r.rate
}

// Full reports whether no more notes are taken.
func (r *Recorder) Full(at int64) bool {
	return r.rate == 0 || len(r.notes) >= MaxNotes || float64(at-r.start) >= float64(MaxLength*r.rate)
}

// Stop ends the recording and what is still held, and returns it: one pass, as
// long as the recording, to be played once at speed 1. It is no longer than
// MaxLength.
func (r *Recorder) Stop(at int64) Memory {
	if r.rate == 0 {
		return Memory{}
	}
	for _, h := range r.held {
		r.end(h, at)
	}
	m := Memory{Length: min(float64(max(at-r.start, 0))/r.rate, MaxLength), Notes: r.notes}
	inOrder(m.Notes)
	if n := len(m.Notes); n > 0 && m.Notes[n-1].At >= m.Length {
		// A key went down on the very sample on which the recording was stopped.
		m.Length = m.Notes[n-1].At + 1/r.rate
	}
	*r = Recorder{}
	return m
}
