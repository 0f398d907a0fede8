package contents

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"lampblack/app/desk"
	"lampblack/app/window/look/golden"
	"lampblack/app/window/windowtest"
	"lampblack/notebook"
)

func TestPicture(t *testing.T) {
	for _, theme := range windowtest.Themes {
		b := windowtest.New(t, theme)
		b.Fill()
		c := New(b.Session)
		w := b.Show(c, 232, 500)
		c.choose("take 2")
		golden.Check(t, theme+".png", w.Canvas())
	}
}

func TestATakeIsFoundRecalledStarredAndProved(t *testing.T) {
	b := windowtest.New(t, "soot")
	b.Fill()
	c := New(b.Session)
	b.Show(c, 232, 600)
	press := func(places ...string) {
		t.Helper()
		for _, name := range places {
			if err := c.List().Click(name); err != nil {
				t.Fatal(err)
			}
		}
	}
	press("take 1", "recall")
	if b.Bench().From != 1 || b.Bench().Note != "too dry; narrow the band" {
		t.Errorf("after recall the bench comes from take %d: %q", b.Bench().From, b.Bench().Note)
	}
	b.Undo()
	if b.Bench().From != 2 {
		t.Errorf("undo of a recall leaves take %d on the bench", b.Bench().From)
	}
	press("star")
	if h, _ := b.Heading(1); !h.Star {
		t.Error("the take bears no star")
	}
	press("prove")
	b.Until("the proof", func() bool { _, state, _ := b.ProofOf(1); return state > desk.ProofRunning })
	if _, _, text := b.ProofOf(1); !strings.Contains(text, "identical") {
		t.Errorf("proof of a take just kept: %s", text)
	}
	c.Search("heavy")
	if got := c.List().Names(); len(got) != 2 || got[1] != "take 2" {
		t.Errorf("a search for a word of one note shows %v", got)
	}
	c.find.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if got := len(c.List().Names()); got < 7 {
		t.Errorf("after Escape only %d rows are shown", got)
	}
}

func TestTheKeyboardReachesEveryRow(t *testing.T) {
	b := windowtest.New(t, "soot")
	b.Fill()
	c := New(b.Session)
	b.Show(c, 232, 220) // so low that rows lie outside
	seen := map[string]bool{}
	for range 20 {
		c.list.TypedKey(&fyne.KeyEvent{Name: fyne.KeyDown})
		seen[c.chosen] = true
		if i := c.index(c.chosen); i < c.first {
			t.Errorf("%s is chosen and out of view", c.chosen)
		}
	}
	for _, key := range []string{"job 1", "cue 1", "take 1", "take 2", "cue 2", "cue 3", "add cue 1", "add job 0"} {
		if !seen[key] {
			t.Errorf("the keyboard never came to %s: %v", key, seen)
		}
	}
	c.choose("cue 2")
	c.list.TypedKey(&fyne.KeyEvent{Name: fyne.KeyF5})
	if b.Bench().Cue != 2 {
		t.Errorf("F5 on cue 2 files the work under %d", b.Bench().Cue)
	}
	c.choose("take 1")
	c.list.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if b.Bench().From != 1 {
		t.Errorf("Enter on take 1 left take %d on the bench", b.Bench().From)
	}
}

func TestJobsAndCuesAreWrittenInline(t *testing.T) {
	b := windowtest.New(t, "paper")
	c := New(b.Session)
	b.Show(c, 232, 500)
	if err := c.List().Click("add job 0"); err != nil {
		t.Fatal(err)
	}
	test.Type(c.write, "The Glasshouse")
	c.write.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if err := c.List().Click("add cue 1"); err != nil {
		t.Fatal(err)
	}
	test.Type(c.write, "1M6 Fog lifts 10:05:00:00")
	c.write.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	got := b.Contents()[0].Cues[0].Cue
	if got.Number != "1M6" || got.Name != "Fog lifts" || got.Timecode != "10:05:00:00" {
		t.Errorf("the cue became %+v", got)
	}
	if b.Bench().Cue != got.ID {
		t.Error("the first cue is not where the work is filed")
	}
}

func TestJobsAndCuesAreWrittenAnew(t *testing.T) {
	b := windowtest.New(t, "paper")
	b.Fill()
	c := New(b.Session)
	b.Show(c, 232, 600)
	rewrite := func(row, text string) {
		t.Helper()
		for _, name := range []string{row, "edit"} {
			if err := c.List().Click(name); err != nil {
				t.Fatal(err)
			}
		}
		c.write.SetText(text)
		c.write.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	}
	rewrite("job 1", "The Orangery")
	if got := b.Contents()[0].Job.Name; got != "The Orangery" {
		t.Errorf("the job is called %q", got)
	}
	rewrite("job 1", "")
	if got := b.Contents()[0].Job.Name; got != "The Orangery" || len(b.Notices(desk.AtContents)) == 0 {
		t.Errorf("a job without a name: %q, told %v", got, b.Notices(desk.AtContents))
	}
	c.write.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	rewrite("cue 1", "1M3 Moths leave 10:03:00:00")
	if got := b.Contents()[0].Cues[0].Cue; got.Number != "1M3" || got.Name != "Moths leave" || got.Timecode != "10:03:00:00" {
		t.Errorf("the cue became %+v", got)
	}
}

func TestACueIsReadAsItStandsOnACueSheet(t *testing.T) {
	for _, c := range []struct {
		line string
		want notebook.Cue
	}{
		{"1M4 Moths at the lamp 10:02:14:05", notebook.Cue{Number: "1M4", Name: "Moths at the lamp", Timecode: "10:02:14:05"}},
		{"1M4 Moths", notebook.Cue{Number: "1M4", Name: "Moths"}},
		{"2M1 10:07:00;02", notebook.Cue{Number: "2M1", Timecode: "10:07:00;02"}},
		{"12", notebook.Cue{Number: "12"}},
		{"  ", notebook.Cue{}},
		{"3 At 10:00 sharp", notebook.Cue{Number: "3", Name: "At 10:00 sharp"}},
	} {
		got := readCue(c.line)
		if got != c.want {
			t.Errorf("%q is read as %+v, want %+v", c.line, got, c.want)
		}
		if again := readCue(cueLine(got)); again != got {
			t.Errorf("%q written and read again is %+v", c.line, again)
		}
	}
}
