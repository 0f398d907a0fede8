package notebook

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestANotebookIsUntouchedUntilItsFirstJob(t *testing.T) {
	b := openNew(t)
	if fresh, err := b.Untouched(); !fresh || err != nil {
		t.Errorf("a new notebook: %v, %v", fresh, err)
	}
	job, err := b.AddJob(Job{Name: "The Glasshouse"})
	if err != nil {
		t.Fatal(err)
	}
	if err := b.RemoveJob(job.ID); err != nil {
		t.Fatal(err)
	}
	if fresh, err := b.Untouched(); fresh || err != nil {
		t.Errorf("after its only job was removed: %v, %v", fresh, err)
	}
}

func TestJobsAndCues(t *testing.T) {
	b := openNew(t)
	cue := glasshouse(t, b)
	job := must(b.Jobs())(t)[0]
	if job.Name != "The Glasshouse" || !job.Made.Equal(noon) {
		t.Errorf("job %v", job)
	}
	if got := must(b.Cue(cue.ID))(t); got != cue || got.Timecode != "10:02:14:05" {
		t.Errorf("cue %v, want %v", got, cue)
	}
	cue.Name, cue.Note = "Moths at the lamp, closer", "the lens is longer"
	if err := b.EditCue(cue); err != nil {
		t.Fatal(err)
	}
	if got := must(b.Cues(job.ID))(t); !slices.Equal(got, []Cue{cue}) {
		t.Errorf("cues %v, want %v", got, cue)
	}
	keep(t, b, short(cue, dust()))
	for _, c := range []struct {
		name string
		err  error
		want error
	}{
		{"a second job of the same name", second(b.AddJob(Job{Name: "The Glasshouse"})), ErrTaken},
		{"a second cue of the same number", second(b.AddCue(Cue{Job: job.ID, Number: "1M4"})), ErrTaken},
		{"a cue of no job", second(b.AddCue(Cue{Job: 99, Number: "1M4"})), ErrMissing},
		{"a job with cues is removed", b.RemoveJob(job.ID), ErrInUse},
		{"a cue with takes is removed", b.RemoveCue(cue.ID), ErrInUse},
		{"a cue that is not there is removed", b.RemoveCue(99), ErrMissing},
		{"a cue that is not there is edited", b.EditCue(Cue{ID: 99, Job: job.ID, Number: "x"}), ErrMissing},
		{"a cue that is not there is read", second(b.Cue(99)), ErrMissing},
		{"a take that is not there is read", second(b.Take(99)), ErrMissing},
		{"an audition that is not there is read", second(b.AuditionFLAC(99)), ErrMissing},
	} {
		if !errors.Is(c.err, c.want) {
			t.Errorf("%s: want %v, got %v", c.name, c.want, c.err)
		}
	}
	for name, err := range map[string]error{
		"a job":         second(b.AddJob(Job{Name: " \t"})),
		"a cue":         second(b.AddCue(Cue{Job: job.ID, Number: ""})),
		"an edited job": b.EditJob(Job{ID: job.ID}),
		"an edited cue": b.EditCue(Cue{ID: cue.ID, Job: job.ID}),
	} {
		if err == nil {
			t.Errorf("%s without a name was taken", name)
		}
	}
	long := strings.Repeat("ü", MaxName)
	for name, err := range map[string]error{
		"a job":           second(b.AddJob(Job{Name: "two\nlines"})),
		"a long job":      second(b.AddJob(Job{Name: long + "x"})),
		"a cue's number":  second(b.AddCue(Cue{Job: job.ID, Number: "1\x1b[31m"})),
		"a cue's name":    second(b.AddCue(Cue{Job: job.ID, Number: "2", Name: "two\nlines"})),
		"an edited job":   b.EditJob(Job{ID: job.ID, Name: "\x00a"}),
		"an edited cue":   b.EditCue(Cue{ID: cue.ID, Job: job.ID, Number: "1M4", Timecode: "\xff"}),
		"an edited cue 2": b.EditCue(Cue{ID: cue.ID, Job: job.ID, Number: long + "x"}),
	} {
		if err == nil {
			t.Errorf("%s that breaks the line of the contents was taken", name)
		}
	}
	fits := must(b.AddJob(Job{Name: long}))(t)
	if err := b.RemoveJob(fits.ID); err != nil {
		t.Error(err)
	}
	empty := must(b.AddCue(Cue{Job: job.ID, Number: "9M9"}))(t)
	if err := b.RemoveCue(empty.ID); err != nil {
		t.Error(err)
	}
}

func second[T any](_ T, err error) error { return err }

func TestCuesStandAsOnACueSheet(t *testing.T) {
	want := []string{"1M2", "1M04", "1M4", "1M4a", "1M10", "2M1", "10M1", "A", "B12"}
	rapid.Check(t, func(r *rapid.T) {
		var cues []Cue
		for _, n := range rapid.Permutation(want).Draw(r, "order") {
			cues = append(cues, Cue{Number: n})
		}
		sortCues(cues)
		for i, c := range cues {
			if c.Number != want[i] {
				r.Fatalf("%v, want %v", cues, want)
			}
		}
	})
}

// An order is one only if it is the same from both sides and along a chain.
func TestOrderOfNumbersIsAnOrder(t *testing.T) {
	number := rapid.StringMatching(`[0-9]{0,3}[MA]?[0-9]{0,25}[a-c]?`)
	rapid.Check(t, func(r *rapid.T) {
		a, b, c := number.Draw(r, "a"), number.Draw(r, "b"), number.Draw(r, "c")
		if compareNumbers(a, b) != -compareNumbers(b, a) {
			r.Fatalf("%q and %q", a, b)
		}
		if (compareNumbers(a, b) == 0) != (a == b) {
			r.Fatalf("%q and %q count as equal", a, b)
		}
		if compareNumbers(a, b) <= 0 && compareNumbers(b, c) <= 0 && compareNumbers(a, c) > 0 {
			r.Fatalf("%q, %q, %q", a, b, c)
		}
	})
}
