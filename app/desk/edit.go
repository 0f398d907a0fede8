package desk

import (
	"errors"
	"fmt"

	"lampblack/patch/kind"
)

// Edit is one change of the bench.
type Edit struct {
	Name string // "set reed cutoff to 2.1 kHz": the line of undo

	// Merge joins edits that follow each other into one step of undo while
	// the key stays the same and Settle is not called (a drag). Empty: never.
	Merge string

	// Apply changes the bench. An error leaves the bench as it was.
	Apply func(b *Bench) error

	first bool // the first thing on an empty bench is not a step: nothing is behind it
}

// step is what undo needs: the bench before and after one edit.
type step struct {
	name, merge   string
	before, after Bench
}

// maxSteps bounds undo; a step of a common patch is a few kilobytes.
const maxSteps = 500

// Do makes an edit. It returns false if the edit was refused; the reason is
// told as a notice.
func (s *Session) Do(e Edit) bool {
	after := s.bench.Clone()
	if err := e.Apply(&after); err != nil {
		s.fault(placeOf(err), err)
		return false
	}
	if err := after.Patch.Validate(kind.Catalogue); err != nil {
		s.fault(AtSheet, fmt.Errorf("%s: %w; nothing was changed", e.Name, err))
		return false
	}
	if err := after.Memory.Validate(); err != nil {
		s.fault(AtMemory, fmt.Errorf("%s: %w; nothing was changed", e.Name, err))
		return false
	}
	if after.Equal(s.bench) {
		return true
	}
	before := s.bench
	s.push(e, before, after)
	s.put(after)
	return true
}

func (s *Session) push(e Edit, before, after Bench) {
	s.undone = nil
	if e.first && len(s.steps) == 0 && isEmpty(&before) {
		return
	}
	if n := len(s.steps); n > 0 && e.Merge != "" && e.Merge == s.open {
		s.steps[n-1].after = after
		s.steps[n-1].name = e.Name
		return
	}
	s.open = e.Merge
	s.steps = append(s.steps, step{e.Name, e.Merge, before, after})
	if len(s.steps) > maxSteps {
		s.steps = append([]step(nil), s.steps[1:]...)
	}
}

// Settle ends a drag: the next edit is a step of its own.
func (s *Session) Settle() { s.open = "" }

// Undo takes back the last edit.
func (s *Session) Undo() {
	n := len(s.steps)
	if n == 0 {
		return
	}
	last := s.steps[n-1]
	s.steps, s.undone, s.open = s.steps[:n-1], append(s.undone, last), ""
	s.put(last.before)
}

// Redo makes the edit again that was last undone.
func (s *Session) Redo() {
	n := len(s.undone)
	if n == 0 {
		return
	}
	next := s.undone[n-1]
	s.undone, s.steps, s.open = s.undone[:n-1], append(s.steps, next), ""
	s.put(next.after)
}

// UndoName tells what Undo would take back, "" if nothing.
func (s *Session) UndoName() string { return lastName(s.steps) }

// RedoName tells what Redo would make again, "" if nothing.
func (s *Session) RedoName() string { return lastName(s.undone) }

func lastName(steps []step) string {
	if len(steps) == 0 {
		return ""
	}
	return steps[len(steps)-1].name
}

// put makes b the bench: it is heard, stored and told to those who watch.
func (s *Session) put(b Bench) {
	before := s.bench
	s.bench = b
	patchMoved := !before.Patch.Equal(b.Patch)
	memoryMoved := !sameMemory(before.Memory, b.Memory)
	if patchMoved {
		s.dismissFaults(AtSheet)
		s.hear(&before.Patch, &b.Patch)
	}
	if memoryMoved {
		s.Dismiss(AtMemory)
		if err := s.engine.SetMemory(b.Memory); err != nil {
			s.fault(AtMemory, err)
		}
	}
	s.store()
	s.dropStale()
	if patchMoved {
		s.probeFirst(&before.Patch, &b.Patch)
		s.tell(Patch)
	}
	if memoryMoved {
		s.tell(Memory)
	}
	if before.From != b.From || before.Cue != b.Cue {
		s.remember()
		s.tell(Patch, Contents)
	}
	s.Withdraw(keptAlready)
	s.tell(Note)
}

// refused is an edit's own error with the place where it is told.
type refused struct {
	place Place
	error
}

func refuse(p Place, format string, a ...any) error {
	return refused{p, fmt.Errorf(format, a...)}
}

func placeOf(err error) Place {
	var r refused
	if errors.As(err, &r) {
		return r.place
	}
	return AtSheet
}
