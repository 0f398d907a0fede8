package window

import (
	"bytes"
	"errors"
	"strings"
	"testing"

	"lampblack/app/desk"
	"lampblack/notebook"
)

// The page of a take is drawn outside, in the format that the name asks for; a
// place of the page tells so meanwhile. The first bytes are those by which the
// formats are known (ISO/IEC 15948, 5.2; XML 1.0, 2.8; ISO 32000-1, 7.5.2).
func TestTheContentsDrawATake(t *testing.T) {
	b, w := sit(t, "soot", 1280, 800)
	var asked notebook.TakeID
	w.contents.Picture = func(id notebook.TakeID) { asked = id }
	w.contents.Draw() // no row is chosen: the take on the bench
	if asked == 0 || asked != b.Bench().From {
		t.Fatalf("Ctrl+P asks for take %d", asked)
	}
	s, ok := b.SummaryOf(asked)
	if !ok || s.Name != "1M4-3.png" || s.Title != "1M4, take 3" {
		t.Fatalf("it is called %q and offered as %q", s.Title, s.Name)
	}
	for ending, magic := range map[string]string{".png": "\x89PNG", ".svg": "<?xml", ".pdf": "%PDF-1."} {
		var file bytes.Buffer
		last := -1.0
		done, told := false, false
		b.Outside("drawing", desk.AtContents, func(progress func(float64)) error {
			return s.Draw(&file, ending, "paper", func(part float64) { last = max(last, part); progress(part) })
		}, func(err error) {
			done = true
			if err != nil {
				t.Error(err)
			}
		})
		b.Until("the page is drawn", func() bool {
			for _, n := range b.Notices(desk.AtContents) {
				told = told || strings.HasPrefix(n.Text, "drawing")
			}
			return done
		})
		if !strings.HasPrefix(file.String(), magic) || last < 0.5 || !told {
			t.Errorf("%s begins with %.8q; the last that was told is %g; a notice: %v", ending, file.String(), last, told)
		}
		if left := b.Notices(desk.AtContents); len(left) > 0 {
			t.Errorf("afterwards %v is told", left)
		}
	}
	if err := s.Draw(&bytes.Buffer{}, ".gif", "paper", nil); err == nil || !strings.Contains(err.Error(), ".png, .svg or .pdf") {
		t.Errorf("of a .gif it is said: %v", err)
	}
	failed := errors.New("no room")
	var got error
	b.Outside("drawing", desk.AtContents, func(func(float64)) error { return failed }, func(err error) { got = err })
	b.Until("it has failed", func() bool { return got != nil })
	if !errors.Is(got, failed) {
		t.Errorf("it failed with %v", got)
	}
}
