// Package summary gathers what the page of a take tells.
//
//	notebook's take, its audition, its patch played once more -> Page -> package picture
//
// It draws nothing itself, keeps nothing, and knows no window and no command
// line. Held by tests: settings and cords stand as they were written, swept
// ranges and rates are those of known oscillators.
package summary

import (
	"context"
	"fmt"
	"io"
	"strings"

	"lampblack/notebook"
	"lampblack/patch/memory"
	"lampblack/scope/picture"
)

// Page is what pictures of a take are drawn from.
type Page struct {
	Take  picture.Take
	Sound picture.Sound
	Moves []picture.Move // what is drawn over its spectrogram

	Title, Aside string // of a picture that is no summary
}

// Read gathers the page of a take, but for what moves.
func Read(b *notebook.Book, id notebook.TakeID) (Page, error) {
	t, err := b.Take(id)
	if err != nil {
		return Page{}, err
	}
	page, err := words(b, t)
	if err != nil {
		return Page{}, err
	}
	channels, rate, err := b.Audition(id)
	if err != nil {
		return Page{}, err
	}
	page.Sound = picture.Sound{Channels: channels, Rate: rate}
	page.Moves = Pitches(t.Memory, t.Seconds)
	return page, nil
}

// Watch plays the patch of a take once more and returns what its cords move. It
// tells progress, 0 to 1, if that is not nil.
func Watch(ctx context.Context, b *notebook.Book, id notebook.TakeID, progress func(float64)) ([]picture.Movement, error) {
	t, err := b.Take(id)
	if err != nil {
		return nil, err
	}
	clips, err := b.Clips(t.Patch, t.Rate, nil)
	if err != nil {
		return nil, err
	}
	return Movements(ctx, t.Patch, Playing{
		Memory: t.Memory, Clips: clips, Rate: t.Rate, Seconds: t.Seconds, Once: t.Asked == 0, Progress: progress,
	})
}

// words fills in what a take is called and why it was kept.
func words(b *notebook.Book, t notebook.Take) (Page, error) {
	cue, err := b.Cue(t.Cue)
	if err != nil {
		return Page{}, err
	}
	job := ""
	jobs, err := b.Jobs()
	if err != nil {
		return Page{}, err
	}
	for _, j := range jobs {
		if j.ID == cue.Job {
			job = j.Name
		}
	}
	from := ""
	if t.From != 0 {
		if from, err = nameOf(b, t.From); err != nil {
			return Page{}, err
		}
	}
	p := Page{
		Title: strings.TrimSpace(fmt.Sprintf("%s/%d %s", cue.Number, t.Number, cue.Name)), Aside: job,
		Take: picture.Take{
			Job: job, Cue: strings.TrimSpace(cue.Number + " " + cue.Name), Timecode: cue.Timecode,
			Name: fmt.Sprintf("Take %d", t.Number), From: from, Star: t.Star, Kept: t.Kept, Note: t.Note, Tags: t.Tags,
			Modules: Settings(t.Patch), Memory: PlayedBy(t.Memory), Proof: t.SHA256, Program: t.Program,
		},
	}
	if cue.Timecode != "" {
		p.Aside += " · " + cue.Timecode
	}
	return p, nil
}

// nameOf returns how people name a take: "1M4/3".
func nameOf(b *notebook.Book, id notebook.TakeID) (string, error) {
	t, err := b.Take(id)
	if err != nil {
		return "", err
	}
	cue, err := b.Cue(t.Cue)
	return fmt.Sprintf("%s/%d", cue.Number, t.Number), err
}

// Draw draws the page as one picture.
func (p Page) Draw(w io.Writer, o picture.Options) error {
	return picture.Summary(w, p.Take, p.Sound, p.Moves, o)
}

// PlayedBy tells what plays a patch, "" if nothing does.
func PlayedBy(m memory.Memory) string {
	if len(m.Notes) == 0 {
		return ""
	}
	return MemoryWords(m)
}
