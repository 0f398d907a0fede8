package desk

import (
	"fmt"
	"slices"

	"lampblack/notebook"
	"lampblack/patch"
)

// JobEntry is a job with what is filed under it.
type JobEntry struct {
	Job  notebook.Job
	Cues []CueEntry
}

// CueEntry is a cue with its takes.
type CueEntry struct {
	Cue   notebook.Cue
	Takes []notebook.Heading
}

// HasNotebook tells whether anything can be kept or recalled at all.
func (s *Session) HasNotebook() bool { return s.book != nil }

// Contents returns the notebook's contents page, to be read only.
func (s *Session) Contents() []JobEntry { return s.contents }

// readContents reads the contents anew; a fault is told and the old one stays.
func (s *Session) readContents() {
	if s.book == nil {
		return
	}
	contents, err := readBook(s.book)
	if err != nil {
		s.fault(AtContents, fmt.Errorf("the contents can't be read: %w", err))
		return
	}
	s.contents = contents
	if s.asides, err = s.book.Asides(); err != nil {
		s.fault(AtContents, err)
	}
	s.tell(Contents)
}

func readBook(book *notebook.Book) ([]JobEntry, error) {
	jobs, err := book.Jobs()
	if err != nil {
		return nil, err
	}
	var contents []JobEntry
	for _, job := range jobs {
		entry := JobEntry{Job: job}
		cues, err := book.Cues(job.ID)
		if err != nil {
			return nil, err
		}
		for _, cue := range cues {
			takes, err := book.Takes(cue.ID)
			if err != nil {
				return nil, err
			}
			entry.Cues = append(entry.Cues, CueEntry{cue, takes})
		}
		contents = append(contents, entry)
	}
	return contents, nil
}

// Heading returns the line of a take in the contents.
func (s *Session) Heading(id notebook.TakeID) (notebook.Heading, bool) {
	for _, job := range s.contents {
		for _, cue := range job.Cues {
			for _, take := range cue.Takes {
				if take.ID == id {
					return take, true
				}
			}
		}
	}
	return notebook.Heading{}, false
}

// CueOf returns the cue under which the work is to be kept.
func (s *Session) CueOf() (job notebook.Job, cue CueEntry, ok bool) {
	for _, j := range s.contents {
		for _, c := range j.Cues {
			if c.Cue.ID == s.bench.Cue {
				return j.Job, c, true
			}
		}
	}
	return notebook.Job{}, CueEntry{}, false
}

// NextNumber returns the number that the next take of the cue gets, 0 without a
// cue.
func (s *Session) NextNumber() int {
	_, cue, ok := s.CueOf()
	if !ok {
		return 0
	}
	highest := 0
	for _, t := range cue.Takes {
		highest = max(highest, t.Number)
	}
	return highest + 1
}

// Search returns the takes that hold the words of the query.
func (s *Session) Search(query string) ([]notebook.Hit, error) {
	if s.book == nil {
		return nil, nil
	}
	return s.book.Search(query)
}

// Recall puts a take on the bench as it was. It is an edit: undo brings back
// what was there; work that was not kept is set aside as well, for later.
func (s *Session) Recall(id notebook.TakeID) {
	if s.book == nil {
		return
	}
	take, err := s.book.Take(id)
	if err != nil {
		s.fault(AtContents, fmt.Errorf("the take can't be recalled: %w; the bench is as it was", err))
		return
	}
	if !s.setAside() {
		return
	}
	s.Stop()
	b := benchOf(take)
	if s.Do(Edit{Name: fmt.Sprintf("recall take %d", take.Number), first: true, Apply: func(w *Bench) error { *w = b.Clone(); return nil }}) {
		s.kept = b
		s.placeProbes()
		s.Select(Selection{Modules: firstModules(&b.Patch), Cord: -1, Note: -1})
		s.readContents()
		s.tell(Patch, Memory, Note, Contents)
	}
}

// NewSound puts an empty sheet and an empty memory on the bench, for the same
// cue. Work that was not kept is set aside. It is an edit.
func (s *Session) NewSound() {
	if !s.setAside() {
		return
	}
	s.Stop()
	cue := s.bench.Cue
	s.Do(Edit{Name: "begin a new sound", first: true, Apply: func(w *Bench) error { *w = Bench{Cue: cue}; return nil }})
	s.readContents()
}

// firstModules chooses a module to show for a patch that has just come: the
// first filter, else the first module of all.
func firstModules(p *patch.Patch) []string {
	for _, m := range p.Modules {
		if m.Kind == "filter" {
			return []string{m.Name}
		}
	}
	if len(p.Modules) > 0 {
		return []string{p.Modules[0].Name}
	}
	return nil
}

func benchOf(t notebook.Take) Bench {
	return Bench{
		Patch: t.Patch.Clone(), Memory: t.Memory.Clone(),
		Note: t.Note, Tags: slices.Clone(t.Tags), Cue: t.Cue, From: t.ID,
	}
}

// remember reads the parent take of what has come to the bench, to compare with.
func (s *Session) remember() {
	if s.bench.From == s.kept.From && s.bench.From != 0 {
		return
	}
	s.kept = Bench{}
	if s.bench.From == 0 || s.book == nil {
		return
	}
	take, err := s.book.Take(s.bench.From)
	if err != nil {
		s.fault(AtContents, fmt.Errorf("the take that this work came from can't be read: %w", err))
		return
	}
	s.kept = benchOf(take)
}

// Kept tells whether the bench is as its parent take holds it.
func (s *Session) Kept() bool { return s.bench.From != 0 && s.bench.Equal(s.kept) }

// AddJob adds a job to the notebook.
func (s *Session) AddJob(name string) (notebook.JobID, bool) {
	if s.book == nil {
		return 0, false
	}
	job, err := s.book.AddJob(notebook.Job{Name: name})
	if err != nil {
		s.fault(AtContents, err)
		return 0, false
	}
	s.readContents()
	return job.ID, true
}

// AddCue adds a cue, and makes it the one under which the work is kept where
// there is none yet.
func (s *Session) AddCue(c notebook.Cue) (notebook.CueID, bool) {
	if s.book == nil {
		return 0, false
	}
	cue, err := s.book.AddCue(c)
	if err != nil {
		s.fault(AtContents, err)
		return 0, false
	}
	s.readContents()
	if s.bench.Cue == 0 {
		s.Do(FileUnder(cue))
	}
	return cue.ID, true
}

// EditCue changes a cue's number, name or timecode.
func (s *Session) EditCue(c notebook.Cue) bool {
	if s.book == nil {
		return false
	}
	if err := s.book.EditCue(c); err != nil {
		s.fault(AtContents, err)
		return false
	}
	s.readContents()
	return true
}

// EditJob changes a job's name.
func (s *Session) EditJob(j notebook.Job) bool {
	if s.book == nil {
		return false
	}
	if err := s.book.EditJob(j); err != nil {
		s.fault(AtContents, err)
		return false
	}
	s.readContents()
	return true
}

// Star marks a take, or takes the mark away.
func (s *Session) Star(id notebook.TakeID, on bool) {
	if s.book == nil {
		return
	}
	if err := s.book.Star(id, on); err != nil {
		s.fault(AtContents, err)
		return
	}
	s.readContents()
}
