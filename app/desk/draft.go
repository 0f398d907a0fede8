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

func (w *draftWriter) flush() {
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
		s.Notify(Notice{Place: AtContents, Text: fmt.Sprintf("%v; takes can be kept here, but work in progress is stored only in the other window", err)})
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
		s.found = &d
		if s.isKept(d) {
			s.TakeUpDraft() // nothing to ask: go on where the last session ended
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

// store hands the bench to the draft. While found work waits for an answer it
// is not written over.
func (s *Session) store() {
	if s.drafts == nil || s.found != nil {
		return
	}
	b := s.bench.Clone()
	s.drafts.put(notebook.Draft{Cue: b.Cue, From: b.From, Patch: b.Patch, Memory: b.Memory, Note: b.Note, Tags: b.Tags})
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
	b := benchOfDraft(d)
	if s.Do(Edit{Name: "take up the work that was not kept", Apply: func(w *Bench) error { *w = b.Clone(); return nil }}) {
		s.remember()
		s.placeProbes()
		s.Select(Selection{Modules: firstModules(&b.Patch), Cord: -1, Note: -1})
	}
	s.tell(Patch, Memory, Note, Contents)
}

// SetAsideDraft leaves the found work unused. It stays on the stack of undo:
// "take up the work" can be redone in this session.
func (s *Session) SetAsideDraft() {
	if s.found == nil {
		return
	}
	d := *s.found
	s.found = nil
	b := benchOfDraft(d)
	s.undone = append(s.undone, step{"take up the work that was not kept", "", s.bench, b})
	s.store()
	s.tell(Patch, Contents)
}
