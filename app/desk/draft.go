package desk

import (
	"errors"
	"fmt"
	"slices"
	"sync"

	"lampblack/notebook"
)

// draftWriter stores the work in progress outside, the newest state only.
type draftWriter struct {
	save func(notebook.Draft) error
	told func(error)

	saving sync.Mutex // held while one is stored, so that an older one never follows a newer one
	mu     sync.Mutex
	newest *notebook.Draft
	wake   chan struct{}
	ended  sync.WaitGroup
}

func newDraftWriter(save func(notebook.Draft) error, told func(error)) *draftWriter {
	w := &draftWriter{save: save, told: told, wake: make(chan struct{}, 1)}
	w.ended.Add(1)
	go w.run()
	return w
}

func (w *draftWriter) put(d notebook.Draft) {
	w.mu.Lock()
	w.newest = &d
	w.mu.Unlock()
	select {
	case w.wake <- struct{}{}:
	default: // it is awake and will see the newest
	}
}

func (w *draftWriter) run() {
	defer w.ended.Done()
	for range w.wake {
		w.flush()
	}
	w.flush()
}

// flush stores the newest state, if it is not stored yet, and returns when it is.
func (w *draftWriter) flush() {
	w.saving.Lock()
	defer w.saving.Unlock()
	w.mu.Lock()
	d := w.newest
	w.newest = nil
	w.mu.Unlock()
	if d != nil {
		w.told(w.save(*d))
	}
}

// close stores what is not yet stored and returns when it is.
func (w *draftWriter) close() {
	close(w.wake)
	w.ended.Wait()
}

// openDraft takes hold of the notebook's draft: work that was not kept is
// offered, and from now on the work is stored as it changes.
func (s *Session) openDraft() {
	d, ok, err := s.book.Draft()
	if errors.Is(err, notebook.ErrOpenElsewhere) {
		s.Notify(Notice{Place: AtContents, Text: err.Error()})
		return
	}
	if err != nil {
		s.fault(AtContents, fmt.Errorf("the work in progress can't be stored: %w; keep takes often", err))
		return
	}
	s.drafts = newDraftWriter(s.book.SaveDraft, func(err error) {
		if err != nil {
			s.post(func() {
				if s.context.Err() == nil {
					s.fault(AtNote, fmt.Errorf("the work in progress could not be stored: %w; it is still on the bench", err))
				}
			})
		}
	})
	if ok {
		s.keptMeanwhile(&d)
		s.found = &d
		if s.isKept(d) {
			s.TakeUpDraft() // nothing to ask: go on where the last session ended
		}
	}
}

// keptMeanwhile makes the take that holds all of a draft its parent, if there is
// one: the program may have ended between keeping it and telling the draft.
func (s *Session) keptMeanwhile(d *notebook.Draft) {
	if s.isKept(*d) {
		return
	}
	takes, err := s.book.Takes(d.Cue)
	if err != nil {
		return // it is offered as what was not kept
	}
	for _, take := range slices.Backward(takes) {
		same := *d
		if same.From = take.ID; take.From == d.From && s.isKept(same) {
			*d = same
			return
		}
	}
}

// isKept tells whether a draft is as its parent take holds it.
func (s *Session) isKept(d notebook.Draft) bool {
	if d.From == 0 {
		return len(d.Patch.Modules) == 0 && len(d.Memory.Notes) == 0 && d.Note == ""
	}
	take, err := s.book.Take(d.From)
	return err == nil && benchOfDraft(d).Equal(benchOf(take))
}

func benchOfDraft(d notebook.Draft) Bench {
	return Bench{Patch: d.Patch.Clone(), Memory: d.Memory.Clone(), Note: d.Note, Tags: slices.Clone(d.Tags), Cue: d.Cue, From: d.From}
}

// store hands the bench to the draft. Found work that still waits for an answer
// is set aside first, so that neither is written over by the other.
func (s *Session) store() {
	if s.drafts == nil {
		return
	}
	if s.found != nil {
		s.SetAsideDraft() // stores the bench as well, if it can
		return
	}
	s.drafts.put(s.draft())
}

func (s *Session) draft() notebook.Draft {
	b := s.bench.Clone()
	if s.LessonOnly() {
		b = s.lessonDraft().Clone()
	}
	return notebook.Draft{Cue: b.Cue, From: b.From, Patch: b.Patch, Memory: b.Memory, Note: b.Note, Tags: b.Tags}
}

// Draft returns work that was found at the start and waits for an answer.
func (s *Session) Draft() (notebook.Draft, bool) {
	if s.found == nil {
		return notebook.Draft{}, false
	}
	return *s.found, true
}

// TakeUpDraft puts the found work on the bench. It is an edit.
func (s *Session) TakeUpDraft() {
	if s.found == nil {
		return
	}
	d := *s.found
	s.found = nil
	s.takeUp(d)
}

// takeUp puts stored work on the bench.
func (s *Session) takeUp(d notebook.Draft) bool {
	b := benchOfDraft(d)
	if !s.Do(Edit{Name: "take up work that was not kept", first: true, Apply: func(w *Bench) error { *w = b.Clone(); return nil }}) {
		return false
	}
	s.remember()
	s.placeProbes()
	s.Select(Selection{Modules: firstModules(&b.Patch), Cord: -1, Note: -1})
	s.tell(Patch, Memory, Note, Contents)
	return true
}

// SetAsideDraft leaves the found work for later: it waits among what was set
// aside.
func (s *Session) SetAsideDraft() {
	if s.found == nil {
		return
	}
	if _, err := s.book.SetAside(*s.found); err != nil {
		s.fault(AtContents, err)
		return
	}
	s.found = nil
	s.store()
	s.readContents()
	s.tell(Contents)
}

// setAside stores the work on the bench for later if nothing else holds it:
// something else is about to take its place. It returns false, with a notice,
// if that could not be done.
func (s *Session) setAside() bool {
	if s.book == nil || s.Kept() || s.LessonOnly() || isEmpty(&s.bench) {
		return true
	}
	if readOnly, _ := s.book.ReadOnly(); readOnly {
		return true // undo still holds it
	}
	if _, err := s.book.SetAside(s.draft()); err != nil {
		s.fault(AtContents, err)
		return false
	}
	return true
}

func isEmpty(b *Bench) bool {
	return len(b.Patch.Modules) == 0 && len(b.Memory.Notes) == 0 && b.Note == "" && len(b.Tags) == 0
}

// Asides returns the work that was set aside, the latest first, to be read only.
func (s *Session) Asides() []notebook.Aside { return s.asides }

// TakeUpAside puts work that was set aside on the bench; what is there is set
// aside in its place. It is an edit.
func (s *Session) TakeUpAside(id notebook.AsideID) {
	for _, a := range s.asides {
		if a.ID != id || !s.setAside() || !s.takeUp(a.Draft) {
			continue
		}
		if s.drafts != nil && s.found == nil { // otherwise nothing else would hold it
			s.drafts.flush()
			s.drop(id)
		}
	}
	s.readContents()
	s.tell(Contents)
}

// DropAside throws work away that was set aside.
func (s *Session) DropAside(id notebook.AsideID) {
	s.drop(id)
	s.readContents()
	s.tell(Contents)
}

func (s *Session) drop(id notebook.AsideID) {
	if s.book == nil {
		return
	}
	if err := s.book.DropAside(id); err != nil {
		s.fault(AtContents, err)
	}
}
