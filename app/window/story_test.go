package window

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"lampblack/app/desk"
	"lampblack/app/window/look"
	"lampblack/app/window/windowtest"
	"lampblack/patch/memory"
)

// person does what somebody does at the window, and sees what it shows.
type person struct {
	*windowtest.Bench
	w *Window
	t *testing.T
}

// strikes presses keys for a quarter of a second each.
func (u *person) strikes(names ...fyne.KeyName) {
	for _, name := range names {
		key(u.w, true, name)
		u.waits(0.25)
		key(u.w, false, name)
	}
}

func (u *person) waits(seconds float64) {
	u.Listen(seconds)
	look.Live.Beat()
}

// holds presses a key with Control.
func (u *person) holds(name fyne.KeyName) {
	u.t.Helper()
	u.w.Canvas().(fyne.Shortcutable).TypedShortcut(&desktop.CustomShortcut{KeyName: name, Modifier: fyne.KeyModifierShortcutDefault})
}

// sees fails unless the memory holds these notes ("rest" for a rest).
func (u *person) sees(want string) {
	u.t.Helper()
	var got []string
	for _, n := range u.Session.Bench().Memory.Notes {
		if n.Rest {
			got = append(got, "rest")
		} else {
			got = append(got, memory.PitchName(n.Pitch))
		}
	}
	if strings.Join(got, " ") != want {
		u.t.Errorf("the memory shows %q, want %q", strings.Join(got, " "), want)
	}
}

func (u *person) types(text string) {
	u.w.Canvas().Focus(u.w.note.Note())
	u.w.note.Note().SetText("")
	test.Type(u.w.note.Note(), text)
	u.w.Canvas().Unfocus()
}

func TestTheWholeJob(t *testing.T) {
	b, w := sit(t, "soot", 1280, 800)
	u := &person{b, w, t}

	// A tune is played and recorded.
	u.holds(fyne.KeyR)
	u.strikes("A", "D", "Z", "Q")
	u.holds(fyne.KeyR)
	u.sees("A4 B4 E4 D5")

	// One note is erased, and another played into its rest.
	w.Canvas().Focus(w.strip)
	for _, k := range []fyne.KeyName{fyne.KeyRight, fyne.KeyRight, fyne.KeyDelete} {
		w.strip.TypedKey(&fyne.KeyEvent{Name: k})
	}
	u.sees("A4 rest E4 D5")
	w.strip.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	u.strikes("S")
	u.sees("A4 A#4 E4 D5")
	w.Canvas().(fyne.Shortcutable).TypedShortcut(&fyne.ShortcutUndo{})
	u.sees("A4 rest E4 D5")
	w.Canvas().(fyne.Shortcutable).TypedShortcut(&fyne.ShortcutRedo{})
	u.sees("A4 A#4 E4 D5")

	// It is played, and stops at the end of its pass.
	w.typed(&fyne.KeyEvent{Name: fyne.KeySpace})
	u.waits(0.3)
	if !b.Playing() {
		t.Error("Space does not play")
	}
	u.holds(fyne.KeyE)
	u.waits(20)
	if b.Playing() {
		t.Error("it plays on after the end of the pass")
	}

	// It is written about, kept, recalled and proved.
	parent := b.Session.Bench().From
	u.types("A tune of four notes.")
	u.holds(fyne.KeyK)
	b.Until("the take is kept", b.Kept)
	kept, _ := b.Heading(b.Session.Bench().From)
	if kept.From != parent || kept.Note != "A tune of four notes." {
		t.Errorf("kept %+v", kept)
	}
	b.Recall(parent)
	b.Recall(kept.ID)
	u.sees("A4 A#4 E4 D5")
	b.Prove(kept.ID)
	b.Until("the proof", func() bool { _, s, _ := b.ProofOf(kept.ID); return s > desk.ProofRunning })
	if _, _, text := b.ProofOf(kept.ID); !strings.Contains(text, "identical") {
		t.Errorf("proof of the take just kept: %s", text)
	}
}
