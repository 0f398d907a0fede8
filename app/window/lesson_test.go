package window

import (
	"fmt"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/storage"

	"lampblack/app/desk"
	"lampblack/app/window/keys"
	"lampblack/app/window/look/golden"
	"lampblack/app/window/windowtest"
	"lampblack/assets"
	"lampblack/notebook"
)

func TestHintFootAndKeysPageNameTheKeyOfTheLessons(t *testing.T) {
	const key = "F10"
	if !strings.Contains(firstHint, key+": lessons") {
		t.Errorf("the hint says %q", firstHint)
	}
	found := false
	for _, s := range keys.Sections() {
		for _, l := range s.Lines {
			found = found || s.Title == "lessons" && l.Keys == key
		}
	}
	if !found {
		t.Error("the page of keys does not list it among the lessons")
	}
	_, w := sit(t, "soot", 1280, 800)
	if err := w.foot.Click("lessons"); err != nil {
		t.Fatal(err)
	}
	if !w.lessons.Visible() || w.contents.Visible() {
		t.Error("the word at the foot does not open the lessons")
	}
}

func TestF10OpensTheLessonsFromAnywhereAndClosesThem(t *testing.T) {
	_, w := sit(t, "soot", 1280, 800)
	for range w.parts() {
		w.nextPart()
		press(w, fyne.KeyF10)
		if !w.lessons.Visible() || w.Canvas().Focused() != fyne.Focusable(w.lessons) {
			t.Fatalf("from one of the parts F10 leads to %T", w.Canvas().Focused())
		}
		w.Canvas().Focus(w.sheet)
		press(w, fyne.KeyF10) // back to them
		if !w.lessons.Visible() || w.Canvas().Focused() != fyne.Focusable(w.lessons) {
			t.Fatalf("from the sheet F10 leads to %T", w.Canvas().Focused())
		}
		press(w, fyne.KeyF10)
		if w.lessons.Visible() || !w.contents.Visible() {
			t.Fatal("F10 does not close the lessons")
		}
	}
	press(w, fyne.KeyF10)
	press(w, fyne.KeyEscape)
	if w.lessons.Visible() {
		t.Error("Escape does not close the list")
	}
}

// learn begins a lesson by keyboard.
func learn(t *testing.T, w *Window, name string) {
	t.Helper()
	press(w, fyne.KeyF10)
	for range 20 {
		if w.lessons.Standing() == "lesson "+name {
			break
		}
		press(w, fyne.KeyDown)
	}
	press(w, fyne.KeyReturn)
	press(w, fyne.KeyReturn)
}

func TestALessonLeavesSheetRulersAndInstrumentsToBeSeen(t *testing.T) {
	b, w := sit(t, "soot", 1280, 800)
	learn(t, w, "beating")
	if l, ok := b.Lesson(); !ok || l.Lesson != "beating" {
		t.Fatalf("on the bench is %v, %v", l.Lesson, ok)
	}
	for _, size := range []fyne.Size{{Width: 1280, Height: 800}, {Width: 1440, Height: 900}, {Width: 900, Height: 580}} {
		w.Resize(size)
		for name, part := range map[string]fyne.CanvasObject{"sheet": w.sheet, "rulers": w.rulers, "instruments": w.instruments, "note": w.note, "lesson": w.lessons} {
			at, s := part.Position(), part.Size()
			if !part.Visible() || s.Width < 250 || s.Height < 60 || at.X < 0 || at.X+s.Width > size.Width+reach || at.Y+s.Height > size.Height+reach {
				t.Errorf("at %v the %s lies at %v, %v large, seen: %v", size, name, at, s, part.Visible())
			}
		}
		if w.lessons.Position().X+w.lessons.Size().Width > w.sheet.Position().X+1 {
			t.Errorf("at %v the lesson lies over the sheet", size)
		}
	}
}

func TestTheControlOfAStepIsTurnedByKeyboard(t *testing.T) {
	b, w := sit(t, "soot", 1280, 800)
	learn(t, w, "beating")
	if err := w.lessons.Click("control"); err != nil {
		t.Fatal(err)
	}
	press(w, fyne.KeyRight)
	if got := b.Patch().Module("other pane").Settings["frequency"].Value; got <= 501 {
		t.Errorf("the arrow key leaves it at %g Hz", got)
	}
	if !b.LessonOnly() {
		t.Error("turning it counts as work of one's own")
	}
	press(w, fyne.KeyF10)
	if w.Canvas().Focused() != fyne.Focusable(w.lessons) {
		t.Errorf("F10 leads to %T", w.Canvas().Focused())
	}
}

func TestAStepOpensTheInstrumentThatItNames(t *testing.T) {
	_, w := sit(t, "soot", 1280, 800)
	learn(t, w, "vibrato") // its first step looks at the spectrogram, the next at the spectrum
	if got := w.instruments.Enlarged(); got != "spectrogram" {
		t.Errorf("the step looks at the spectrogram, shown is %q", got)
	}
	if w.Canvas().Focused() != fyne.Focusable(w.lessons) {
		t.Errorf("the keyboard went to %T", w.Canvas().Focused())
	}
	press(w, fyne.KeyPageDown)
	if got := w.instruments.Enlarged(); got != "" || !w.sheet.Visible() {
		t.Errorf("the next step looks at the spectrum in its column, large is %q", got)
	}
	if w.Canvas().Focused() != fyne.Focusable(w.lessons) {
		t.Errorf("the keyboard went to %T", w.Canvas().Focused())
	}
}

func TestAWordOfAStepEnlargesItsInstrumentAndGivesBack(t *testing.T) {
	_, w := sit(t, "soot", 1280, 800)
	learn(t, w, "hiss") // its first step looks at the spectrum
	for _, want := range []string{"spectrum", "", "spectrum"} {
		if err := w.lessons.Click("instrument"); err != nil {
			t.Fatal(err)
		}
		if got := w.instruments.Enlarged(); got != want {
			t.Errorf("large is %q, want %q", got, want)
		}
	}
	press(w, fyne.KeyPageDown)
	if got := w.instruments.Enlarged(); got != "" {
		t.Errorf("on the next step %q is still large", got)
	}
}

func TestATakeIsKeptOutOfALesson(t *testing.T) {
	b, w := sit(t, "soot", 1280, 800)
	_, cue, _ := b.CueOf()
	before := b.NextNumber()
	learn(t, w, "pulse")
	w.note.Keep()
	b.Until("the take is kept", func() bool { return b.Kept() })
	h, ok := b.Heading(b.Session.Bench().From)
	if _, now, _ := b.CueOf(); !ok || now.Cue.ID != cue.Cue.ID || h.Number != before {
		t.Errorf("kept as take %d of %q, want take %d of %q", h.Number, now.Cue.Number, before, cue.Cue.Number)
	}
	press(w, fyne.KeyPageDown) // the lesson goes on
	if l, ok := b.Lesson(); !ok || l.Step != 2 || len(b.Asides()) != 0 {
		t.Errorf("after keeping it goes on at step %d, %v; set aside are %d", l.Step, ok, len(b.Asides()))
	}
}

func TestWithoutACueTheLessonSaysWhatIsMissing(t *testing.T) {
	b := windowtest.New(t, "soot")
	w := New(fyne.CurrentApp(), b.Session)
	t.Cleanup(w.Stop)
	w.Resize(fyne.NewSize(1280, 800))
	w.Show()
	learn(t, w, "pulse")
	w.note.Keep()
	told := b.Notices(desk.AtNote)
	if len(told) != 1 || !strings.Contains(told[0].Text, "cue") {
		t.Fatalf("told is %v", told)
	}
	press(w, fyne.KeyF10) // the contents: add what is missing
	job, _ := b.AddJob("School")
	b.AddCue(notebook.Cue{Job: job, Number: "1", Name: "Pulse"})
	w.note.Keep()
	b.Until("the take is kept", func() bool { return b.Kept() })
}

func TestADroppedLessonIsOpened(t *testing.T) {
	b, w := sit(t, "soot", 1280, 800)
	file, err := assets.Lesson(assets.Lessons()[0])
	if err != nil {
		t.Fatal(err)
	}
	before := b.Patch().Clone()
	w.take(file, storage.NewFileURI("/school/mine.json"), w.sheet.Next)
	if !w.lessons.Visible() || !b.Patch().Equal(before) || len(b.Notices(desk.AtSheet)) > 0 {
		t.Errorf("seen: %v; told: %v", w.lessons.Visible(), b.Notices(desk.AtSheet))
	}
}

func TestLessonPictures(t *testing.T) {
	for _, theme := range windowtest.Themes {
		b, w := sit(t, theme, 1280, 800)
		learn(t, w, "tremolo")
		play(b, 0.8)
		golden.Check(t, fmt.Sprintf("lesson-%s.png", theme), w.Canvas())
		w.EnlargeText(1.5)
		w.Resize(fyne.NewSize(1920, 1200))
		golden.Check(t, fmt.Sprintf("lesson-large-%s.png", theme), w.Canvas())
	}
}
