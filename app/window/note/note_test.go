package note

import (
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2/test"

	"lampblack/app/desk"
	"lampblack/app/window/look/golden"
	"lampblack/app/window/windowtest"
	"lampblack/patch"
)

// narrow changes two controls, as somebody does who narrows the band.
func narrow(b *windowtest.Bench) {
	b.Do(desk.SetControl("band", "cutoff", patch.Setting{Value: 1500, Unit: "Hz"}))
	b.Do(desk.SetControl("swell", "release", patch.Setting{Value: 2.4, Unit: "s"}))
}

func TestPicture(t *testing.T) {
	for _, theme := range windowtest.Themes {
		b := windowtest.New(t, theme)
		b.Fill()
		narrow(b)
		w := b.Show(New(b.Session), 372, 330)
		golden.Check(t, theme+".png", w.Canvas())
	}
}

func TestATakeIsWrittenAboutAndKept(t *testing.T) {
	b := windowtest.New(t, "soot")
	b.Fill()
	c := New(b.Session)
	w := b.Show(c, 372, 330)
	if slices.Contains(c.Names(), "keep") {
		t.Error("there is something to keep before anything was changed")
	}
	c.Note().SetText("")
	test.Type(c.Note(), "Narrower: it has a pitch now.")
	if b.Bench().Note != "Narrower: it has a pitch now." {
		t.Errorf("the bench holds the note %q", b.Bench().Note)
	}
	w.Canvas().Focus(c.Tags())
	c.Tags().SetText("wings, heavy heavy")
	if err := c.Click("keep"); err != nil {
		t.Fatal(err)
	}
	b.Until("the take is kept", func() bool { return b.Kept() })
	h, ok := b.Heading(b.Bench().From)
	if !ok || h.Number != 3 || h.From != 2 || h.Note != "Narrower: it has a pitch now." {
		t.Errorf("kept %+v", h)
	}
	slices.Sort(h.Tags)
	if !slices.Equal(h.Tags, []string{"heavy", "wings"}) {
		t.Errorf("tags %q", h.Tags)
	}
	if err := c.Click("prove"); err != nil {
		t.Fatal(err)
	}
	b.Until("the proof", func() bool { _, state, _ := b.ProofOf(h.ID); return state > desk.ProofRunning })
	if _, _, text := b.ProofOf(h.ID); !strings.Contains(text, "identical") {
		t.Errorf("proof: %s", text)
	}
}

func TestTheNoteFollowsUndo(t *testing.T) {
	b := windowtest.New(t, "soot")
	b.Fill()
	c := New(b.Session)
	b.Show(c, 372, 330)
	was := b.Bench().Note
	c.Note().SetText(was + " And slower.")
	if err := c.Click("undo"); err != nil {
		t.Fatal(err)
	}
	if c.Note().Text != was {
		t.Errorf("after undo the page says %q", c.Note().Text)
	}
	if err := c.Click("redo"); err != nil {
		t.Fatal(err)
	}
	if c.Note().Text != was+" And slower." {
		t.Errorf("after redo the page says %q", c.Note().Text)
	}
}
