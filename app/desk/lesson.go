package desk

import (
	"fmt"
	"slices"

	"lampblack/notebook"
	"lampblack/patch"
	"lampblack/patch/kind"
	"lampblack/patch/memory"
)

// LessonStep is a step of a lesson on the bench.
type LessonStep struct {
	Lesson string      // the lesson's name, unique among those that are open
	Title  string      // as a person reads it
	Step   int         // from 1
	Patch  patch.Patch // as the step begins
	Memory memory.Memory
	Moves  patch.Socket // the control that the learner is asked to turn
}

// taught is what a bench that came from a lesson remembers. It does not change.
type taught struct {
	step   LessonStep
	given  Bench            // as the step has put it
	before Bench            // the work that was on the bench when the lesson began
	aside  notebook.AsideID // under which that work was set aside, 0 if it did not need to be
	kept   bool             // a take holds it
}

// Teach puts a step of a lesson on the bench, for the cue that is open. It is an
// edit: undo brings back what was there. Work that was not kept is set aside as
// well, for later; what the learner has done with nothing but the control that
// the step asks to be turned counts as none. It returns false, with a notice,
// if the bench is as it was.
func (s *Session) Teach(l LessonStep) bool {
	s.Stop() // what is being recorded belongs to the work
	t := &taught{step: l}
	if from := s.bench.lesson; from != nil {
		t.before, t.aside, t.kept = from.before, from.aside, from.kept
		if !s.setAside() {
			return false
		}
	} else if !s.setAsideFor(t) {
		return false
	}
	t.given = Bench{
		Patch: l.Patch.Clone(), Memory: l.Memory.Clone(), Cue: s.bench.Cue,
		Note: fmt.Sprintf("From the lesson “%s”, step %d.", l.Title, l.Step), lesson: t,
	}
	name := fmt.Sprintf("lesson %s, step %d", l.Title, l.Step)
	if !s.Do(Edit{Name: name, first: true, Apply: func(w *Bench) error { *w = t.given.Clone(); return nil }}) {
		return false
	}
	s.bench.lesson = t // also where two steps begin alike
	s.placeProbes()
	s.readContents()
	s.tell(Patch, Memory, Note, Contents)
	return true
}

// setAsideFor sets the work aside that a lesson takes the place of, and
// remembers where it is.
func (s *Session) setAsideFor(t *taught) bool {
	t.before, t.kept = s.bench.Clone(), s.Kept()
	if s.book == nil || t.kept || isEmpty(&s.bench) {
		return true
	}
	if readOnly, _ := s.book.ReadOnly(); readOnly {
		return true // undo still holds it
	}
	var err error
	if t.aside, err = s.book.SetAside(s.draft()); err != nil {
		s.fault(AtContents, err)
		return false
	}
	return true
}

// Lesson returns the step of a lesson that the bench came from; ok is false if
// it holds anything else.
func (s *Session) Lesson() (step LessonStep, ok bool) {
	if s.bench.lesson == nil {
		return LessonStep{}, false
	}
	return s.bench.lesson.step, true
}

// LessonOnly tells whether the bench is as a lesson has put it, but for the
// control that its step asks to be turned: there is nothing of the learner's
// own to be kept.
func (s *Session) LessonOnly() bool {
	t := s.bench.lesson
	if t == nil || s.bench.From != 0 || s.bench.Note != t.given.Note || len(s.bench.Tags) > 0 {
		return false
	}
	was, is := t.given.Memory, s.bench.Memory
	if was.Length != is.Length || !slices.Equal(was.Notes, is.Notes) { // its speed suits listening
		return false
	}
	for _, c := range patch.Compare(t.given.Patch, s.bench.Patch, kind.Catalogue) {
		if c.What != patch.SettingChanged || c.Module != t.step.Moves.Module || c.Place != t.step.Moves.Name {
			return false
		}
	}
	return true
}

// BeforeLesson names the work that was on the bench when the lesson began; ok is
// false if there was none, or if the bench holds no lesson.
func (s *Session) BeforeLesson() (name string, ok bool) {
	t := s.bench.lesson
	switch {
	case t == nil || isEmpty(&t.before):
		return "", false
	case t.before.From != 0:
		if take, found := s.Heading(t.before.From); found {
			if !t.kept { // the take alone would sound as if what changed since were lost
				return fmt.Sprintf("your work on take %d", take.Number), true
			}
			return fmt.Sprintf("take %d", take.Number), true
		}
	}
	return "your work", true
}

// EndLesson puts the work back on the bench that was there when the lesson began.
// It is an edit. Of the lesson nothing is set aside that is not the learner's own.
func (s *Session) EndLesson() {
	s.Stop()
	t := s.bench.lesson
	if t == nil || !s.setAside() {
		return
	}
	b := t.before
	b.lesson = nil
	if !s.Do(Edit{Name: "go back to the work before the lesson", Apply: func(w *Bench) error { *w = b.Clone(); return nil }}) {
		return
	}
	s.remember()
	s.placeProbes()
	s.Select(Selection{Modules: firstModules(&b.Patch), Cord: -1, Note: -1})
	if t.aside != 0 && s.drafts != nil && s.found == nil { // otherwise nothing else would hold it
		s.drafts.flush()
		s.drop(t.aside)
	}
	s.readContents()
	s.tell(Patch, Memory, Note, Contents)
}

// lessonDraft is what the draft stores while a lesson is on the bench: the work
// before it, so that the next start goes on from there; an empty sheet if that
// was set aside and waits there.
func (s *Session) lessonDraft() Bench {
	t := s.bench.lesson
	if t.kept {
		return t.before
	}
	return Bench{Cue: s.bench.Cue}
}

// Elsewhere does slow work outside, and then what it returns on the session's
// goroutine, unless the session was closed meanwhile.
func (s *Session) Elsewhere(work func() (then func())) {
	s.background(func() (func(), error) { return work(), nil }, AtSheet)
}
