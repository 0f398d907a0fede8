package window

import (
	"testing"

	"fyne.io/fyne/v2"

	"lampblack/app/window/look"
	"lampblack/app/window/look/golden"
	"lampblack/app/window/windowtest"
)

func press(w *Window, name fyne.KeyName) {
	if f := w.Canvas().Focused(); f != nil {
		f.TypedKey(&fyne.KeyEvent{Name: name})
		return
	}
	w.typed(&fyne.KeyEvent{Name: name})
}

func TestF3EnlargesOneInstrumentAfterTheOther(t *testing.T) {
	_, w := sit(t, "soot", 1280, 800)
	large := w.instruments.Large()
	for i := range len(large.Plates()) {
		press(w, fyne.KeyF3)
		if !large.Visible() || w.sheet.Visible() || w.strip.Visible() || w.Canvas().Focused() != fyne.Focusable(large) {
			t.Fatalf("after %d times F3 the instrument is shown: %v, the sheet: %v, the keyboard is at %T", i+1, large.Visible(), w.sheet.Visible(), w.Canvas().Focused())
		}
	}
	press(w, fyne.KeyF3)
	if large.Visible() || !w.sheet.Visible() || !w.strip.Visible() {
		t.Error("after the last the sheet has not its place again")
	}
	press(w, fyne.KeyF3)
	press(w, fyne.KeyEscape)
	if large.Visible() || w.Canvas().Focused() != fyne.Focusable(w.sheet) {
		t.Error("Escape does not give the sheet its place and the keyboard")
	}
}

func TestNothingIsRemovedThatIsNotSeen(t *testing.T) {
	b, w := sit(t, "soot", 1280, 800)
	press(w, fyne.KeyF3)
	w.Canvas().Unfocus()
	was := len(b.Patch().Modules)
	press(w, fyne.KeyDelete)
	press(w, fyne.KeyF2)
	if len(b.Patch().Modules) != was || w.sheet.Visible() {
		t.Errorf("%d of %d modules are left", len(b.Patch().Modules), was)
	}
}

func TestClicksEnlargeAndGiveBack(t *testing.T) {
	_, w := sit(t, "soot", 1280, 800)
	for _, name := range []string{"scope", "spectrum"} {
		if err := w.instruments.Click(name); err != nil {
			t.Fatal(err)
		}
		if !w.instruments.Large().Visible() {
			t.Errorf("a click on the %s does not enlarge it", name)
		}
		if err := w.instruments.Large().Click("give back"); err != nil {
			t.Fatal(err)
		}
		if w.instruments.Large().Visible() {
			t.Error("it does not go back")
		}
	}
}

func TestLargePicture(t *testing.T) {
	for _, theme := range windowtest.Themes {
		b, w := sit(t, theme, 1280, 800)
		press(w, fyne.KeyF3)
		press(w, fyne.KeyF3)
		press(w, fyne.KeyF3)
		w.Canvas().Capture()
		look.Live.Beat()
		play(b, 3)
		golden.Check(t, "large-"+theme+".png", w.Canvas())
	}
}
