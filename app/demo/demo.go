// Package demo makes the demo job, The Glasshouse: a short film about a night
// greenhouse, invented so that a newcomer finds a notebook with pages in it.
//
//	assets/demo (job.json, patches) -> Build -> job, cues and takes in a notebook
//
// Everything in it is made by this program: the recordings that takes play are
// rendered here from other patches, so that nobody's voice is in it. Held by
// tests: every kind of module is used here or in an example patch, every take has
// a level that can be used and fits its place in the film, and every proof is
// bit-identical.
package demo

import (
	"context"
	"fmt"

	"lampblack/notebook"
)

// Job is the name of the demo job.
const Job = "The Glasshouse"

// rate of every audition and recording of the demo, in samples a second.
const rate = 48000

// Build puts the demo job into a notebook. What an earlier call has put there
// stays, and what it could not finish is finished; a complete job is left
// alone. progress, which may be nil, is called with 0 to 1.
func Build(ctx context.Context, b *notebook.Book, progress func(done float64)) error {
	if err := build(ctx, b, progress); err != nil {
		return fmt.Errorf("the demo job is not complete: %w", err)
	}
	return nil
}

func build(ctx context.Context, b *notebook.Book, progress func(done float64)) error {
	w := &work{book: b, progress: progress}
	if err := read("job", &w.script); err != nil {
		return err
	}
	for _, c := range w.script.Cues {
		w.takes += len(c.Takes)
	}
	job, err := findJob(b, w.script.Note)
	if err != nil {
		return err
	}
	there, err := b.Cues(job)
	if err != nil {
		return err
	}
	for _, c := range w.script.Cues {
		if err := w.makeCue(ctx, job, there, c); err != nil {
			return fmt.Errorf("cue %s: %w", c.Number, err)
		}
	}
	return nil
}
