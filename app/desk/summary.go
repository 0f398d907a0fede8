package desk

import (
	"context"
	"fmt"
	"io"
	"strings"

	"lampblack/app/summary"
	"lampblack/notebook"
	"lampblack/scope/picture"
)

// Summary is the page of a take that can be drawn.
type Summary struct {
	Title string // "1M4, take 3"
	Name  string // that its file is offered: "1M4-3.png"
	// Draw draws it in the format of an ending (".png", ".svg", ".pdf") and in the
	// ink of a theme, from any goroutine. It plays the patch once more, and tells
	// how far that has come, 0 to 1.
	Draw func(w io.Writer, ending, theme string, progress func(float64)) error
}

var formats = map[string]picture.Format{".png": picture.PNG, ".svg": picture.SVG, ".pdf": picture.PDF}

// SummaryOf returns the page of a take.
func (s *Session) SummaryOf(id notebook.TakeID) (Summary, bool) {
	for _, job := range s.contents {
		for _, cue := range job.Cues {
			for _, t := range cue.Takes {
				if t.ID != id {
					continue
				}
				return Summary{
					Title: fmt.Sprintf("%s, take %d", cue.Cue.Number, t.Number),
					Name:  fileName(fmt.Sprintf("%s-%d", cue.Cue.Number, t.Number)) + ".png",
					Draw: func(w io.Writer, ending, theme string, progress func(float64)) error {
						return drawSummary(s.context, s.book, id, w, ending, theme, progress)
					},
				}, true
			}
		}
	}
	return Summary{}, false
}

// fileName leaves of a name what every file system takes.
func fileName(name string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' || strings.ContainsRune(`/\:*?"<>|`, r) {
			return '-'
		}
		return r
	}, name)
}

func drawSummary(ctx context.Context, b *notebook.Book, id notebook.TakeID, w io.Writer, ending, theme string, progress func(float64)) error {
	format, known := formats[ending]
	if !known {
		return fmt.Errorf("a picture's name ends in .png, .svg or .pdf, not in %q; nothing was drawn", ending)
	}
	page, err := summary.Read(b, id)
	if err != nil {
		return err
	}
	if page.Take.Moving, err = summary.Watch(ctx, b, id, progress); err != nil {
		return err
	}
	ink := &picture.Paper
	if theme == "soot" {
		ink = &picture.Soot
	}
	return page.Draw(w, picture.Options{Format: format, Ink: ink})
}

// Outside does work outside, which may tell how far it has come, 0 to 1. A place
// of the page tells so meanwhile; then is called with what came of it, on the
// session's goroutine.
func (s *Session) Outside(doing string, at Place, work func(progress func(float64)) error, then func(error)) {
	notice := Notice{Place: at, Text: doing + " …"}
	s.Notify(notice)
	told := 0
	progress := func(done float64) {
		tenth := int(done * 10)
		if tenth <= told {
			return
		}
		told = tenth
		s.post(func() {
			if s.context.Err() != nil || notice.Place < 0 {
				return
			}
			s.Withdraw(notice)
			notice.Text = fmt.Sprintf("%s: %d %%", doing, 10*tenth)
			s.Notify(notice)
		})
	}
	s.background(func() (func(), error) {
		err := work(progress)
		return func() {
			s.Withdraw(notice)
			notice.Place = -1 // what is still to be told of it comes too late
			then(err)
		}, nil
	}, at)
}
