package desk

import (
	"fmt"
	"maps"

	"lampblack/notebook"
)

// HeldSeconds is how long the audition of a patch without a memory is: one note
// is held all the while.
const HeldSeconds = 5.0

var keptAlready = Notice{Place: AtNote, Text: "nothing has changed since this take: it is kept already"}

// Keep makes a take of the bench. It renders outside; Keeping tells how far it
// has come, and the bench then goes on from the new take.
func (s *Session) Keep() {
	if s.keeping >= 0 {
		return
	}
	if s.book == nil {
		s.Notify(Notice{Place: AtNote, Text: "no notebook is open: nothing can be kept", Fault: true})
		return
	}
	if _, _, ok := s.CueOf(); !ok {
		s.Notify(Notice{Place: AtNote, Text: "choose the cue that this take is for, or add one in the contents: a take is filed under a cue; nothing was kept yet", Fault: true})
		return
	}
	if len(s.bench.Patch.Modules) == 0 {
		s.Notify(Notice{Place: AtNote, Text: "the sheet is empty: there is nothing to keep yet", Fault: true})
		return
	}
	s.Settle()
	s.Dismiss(AtNote)
	if s.Kept() {
		s.Notify(keptAlready)
		return
	}
	b := s.bench.Clone()
	files := maps.Clone(s.files)
	s.keeping = 0
	s.tell(Contents)
	s.background(func() (func(), error) {
		take, err := s.book.Keep(s.context, newTake(b, s.rate, files), s.report(&s.keeping, Contents))
		if err != nil {
			return s.doneKeeping, fmt.Errorf("%w; the work is still on the bench", err)
		}
		return func() { s.keptAs(take, b); s.doneKeeping() }, nil
	}, AtNote)
}

func newTake(b Bench, rate int, files map[string][]byte) notebook.NewTake {
	n := notebook.NewTake{
		Cue: b.Cue, From: b.From, Patch: b.Patch, Memory: b.Memory, Note: b.Note, Tags: b.Tags,
		Rate: rate, Recordings: map[string][]byte{},
	}
	if len(b.Memory.Notes) == 0 {
		n.Seconds = HeldSeconds
	}
	for _, m := range b.Patch.Modules {
		if m.Recording != nil && files[m.Recording.SHA256] != nil {
			n.Recordings[m.Recording.SHA256] = files[m.Recording.SHA256]
		}
	}
	return n
}

// report returns a function that may be called from anywhere and brings
// progress, 0 to 1, to a field of the session.
func (s *Session) report(field *float64, topic Topic) func(float64) {
	told := -1.0
	return func(done float64) {
		if done-told < 0.02 && done < 1 {
			return // the window needs no more than 50 steps
		}
		told = done
		s.post(func() {
			if *field >= 0 && s.context.Err() == nil {
				*field = done
				s.tell(topic)
			}
		})
	}
}

func (s *Session) doneKeeping() {
	s.keeping = -1
	s.readContents()
	s.tell(Contents)
}

// keptAs makes the take the parent of the bench. What was changed while it was
// being kept stays on the bench, as a change since the take.
func (s *Session) keptAs(take notebook.Take, as Bench) {
	if s.bench.lesson != as.lesson {
		return // a lesson has come to the bench, or gone, meanwhile: that is no change since the take
	}
	s.kept = benchOf(take)
	now := s.bench.Clone()
	now.From, now.Cue = take.ID, take.Cue
	if s.bench.Equal(as) {
		now.Tags = benchOf(take).Tags // as the notebook has put them in order
	}
	for i := range s.steps { // undo leads back to settings, not to another parent
		s.steps[i].before.From, s.steps[i].after.From = take.ID, take.ID
	}
	s.bench = now
	s.store()
	s.tell(Patch, Note, Contents)
}

// Keeping returns how far the keeping of a take has come, 0 to 1, or -1 when
// none is being kept.
func (s *Session) Keeping() float64 { return s.keeping }
