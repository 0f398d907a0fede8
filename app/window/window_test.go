package window

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"lampblack/app/demo"
	"lampblack/app/desk"
	"lampblack/app/window/look"
	"lampblack/app/window/look/golden"
	"lampblack/app/window/told"
	"lampblack/app/window/windowtest"
	"lampblack/notebook"
	"lampblack/patch/recording"
)

// demoBook is a notebook with the demo job, made once for all tests.
var demoBook string

func TestMain(m *testing.M) { os.Exit(run(m)) }

func run(m *testing.M) int {
	dir, err := os.MkdirTemp("", "window-test-")
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	defer os.RemoveAll(dir)
	demoBook = filepath.Join(dir, "demo.lampblack")
	if err := buildDemo(); err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	return m.Run()
}

func buildDemo() error {
	book, err := notebook.Open(demoBook, notebook.Options{})
	if err != nil {
		return err
	}
	if err := demo.Build(context.Background(), book, nil); err != nil {
		return err
	}
	return book.Close()
}

// sit opens the window on a copy of the demo notebook.
func sit(t testing.TB, theme string, width, height float32) (*windowtest.Bench, *Window) {
	t.Helper()
	file, err := os.ReadFile(demoBook)
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "demo.lampblack")
	if err := os.WriteFile(path, file, 0o600); err != nil {
		t.Fatal(err)
	}
	b := windowtest.Open(t, theme, path, desk.Options{Draft: true})
	fyne.CurrentApp().Preferences().SetString(themeKey, theme)
	w := New(fyne.CurrentApp(), b.Session)
	t.Cleanup(w.Stop)
	w.start()
	w.Resize(fyne.NewSize(width, height))
	w.Show()
	b.SetProbe(desk.ProbeA, b.Probe(desk.ProbeA))
	look.Live.Beat()
	return b, w
}

// play lets the memory run for some seconds as the window would see it.
func play(b *windowtest.Bench, seconds float64) {
	b.Play()
	for done := 0.0; done < seconds; done += 1.0 / 30 {
		b.Listen(1.0 / 30)
		look.Live.Beat()
	}
}

func TestPictures(t *testing.T) {
	for _, theme := range windowtest.Themes {
		for _, size := range []fyne.Size{fyne.NewSize(1280, 800), fyne.NewSize(1440, 900)} {
			name := fmt.Sprintf("%s-%.0fx%.0f", theme, size.Width, size.Height)
			t.Run(name, func(t *testing.T) {
				b, w := sit(t, theme, size.Width, size.Height)
				play(b, 0.8)
				golden.Check(t, name+".png", w.Canvas())
			})
		}
	}
}

func TestEmptyPicture(t *testing.T) {
	b := windowtest.New(t, "paper")
	preferences().SetString(themeKey, "paper")
	w := New(fyne.CurrentApp(), b.Session)
	t.Cleanup(w.Stop)
	w.Resize(fyne.NewSize(1280, 800))
	w.Show()
	golden.Check(t, "empty-paper.png", w.Canvas())
}

func TestPlacesFitTheWindow(t *testing.T) {
	b, w := sit(t, "soot", 1280, 800)
	if least := w.Content().MinSize(); least.Width > 1280 || least.Height > 800 {
		t.Errorf("the window needs %v; it must fit 1280 x 800", least)
	}
	for _, size := range []fyne.Size{fyne.NewSize(1280, 800), fyne.NewSize(1920, 1080), fyne.NewSize(3840, 2160), fyne.NewSize(900, 580)} {
		w.Resize(size)
		for _, o := range test.WidgetRenderer(w.page).Objects() {
			at, s := o.Position(), o.Size()
			if at.X < -reach || at.Y < -reach || at.X+s.Width > size.Width+reach || at.Y+s.Height > size.Height+reach {
				t.Errorf("at %v a %T lies at %v and is %v large", size, o, at, s)
			}
		}
		if w.sheet.Size().Height < 60 || w.sheet.Size().Width < 300 {
			t.Errorf("at %v the sheet has only %v", size, w.sheet.Size())
		}
	}
	_ = b
}

func key(w *Window, down bool, name fyne.KeyName) {
	e := &fyne.KeyEvent{Name: name}
	if down {
		w.keyDown(e)
	} else {
		w.keyUp(e)
	}
}

func TestKeysPlayUnlessATextIsWritten(t *testing.T) {
	_, w := sit(t, "soot", 1280, 800)
	key(w, true, "A")
	if got := w.hands.Pitches(); len(got) != 1 || got[0] != 0 {
		t.Errorf("the key A holds %v, want A4", got)
	}
	w.Canvas().Focus(w.note.Note())
	look.Live.Beat()
	if w.hands.Held() != 0 {
		t.Error("a note hangs after the keyboard went to the note")
	}
	key(w, false, "A")
	w.typed(&fyne.KeyEvent{Name: fyne.KeyRightBracket})
	if w.hands.Octave() != 1 {
		t.Errorf("] moved the strings to octave %d", w.hands.Octave())
	}
	w.ShowKeys()
	key(w, true, "S")
	if w.hands.Held() != 0 {
		t.Error("keys play while the page of keys is read")
	}
}

func TestF6GoesRoundThePage(t *testing.T) {
	_, w := sit(t, "soot", 1280, 800)
	seen := map[fyne.Focusable]bool{}
	for range 7 {
		w.nextPart()
		at := w.Canvas().Focused()
		if at == nil {
			t.Fatal("nothing has the keyboard")
		}
		seen[at] = true
		if at == fyne.Focusable(w.note.Note()) {
			continue // a text takes the key itself, and gives it on
		}
		at.TypedKey(&fyne.KeyEvent{Name: fyne.KeyF1})
		if !w.keys.Visible() {
			t.Errorf("%T does not give F1 to the window", at)
		}
		w.CloseKeys()
		w.Canvas().Focus(at)
	}
	if len(seen) != 7 {
		t.Errorf("F6 came to %d parts, want 7", len(seen))
	}
}

func TestTheThemeIsTurnedAndRemembered(t *testing.T) {
	_, w := sit(t, "soot", 1280, 800)
	w.TurnPage()
	if w.Theme() != "paper" || preferences().String(themeKey) != "paper" {
		t.Errorf("theme %s, remembered %s", w.Theme(), preferences().String(themeKey))
	}
	w.TurnPage()
	if w.Theme() != "soot" {
		t.Errorf("turned back: %s", w.Theme())
	}
}

func TestHintsArePutAwayForGood(t *testing.T) {
	_, w := sit(t, "soot", 1280, 800)
	if err := w.offer.Click("hint"); err != nil {
		t.Fatal(err)
	}
	if told.Wanted("first") || w.offer.Size().Height != 0 {
		t.Errorf("the hint still takes %v", w.offer.Size())
	}
	w.ShowKeys()
	if err := w.keys.Click("hints"); err != nil {
		t.Fatal(err)
	}
	if !told.Wanted("first") || w.offer.Size().Height == 0 {
		t.Error("the hints did not come back from the page of keys")
	}
}

func TestWorkThatWasNotKeptIsOffered(t *testing.T) {
	path := filepath.Join(t.TempDir(), "draft.lampblack")
	b := windowtest.Open(t, "soot", path, desk.Options{Draft: true})
	b.Fill()
	b.Do(desk.SetNote("half a thought"))
	b.Leave()

	again := windowtest.Open(t, "soot", path, desk.Options{Draft: true})
	told.Dismiss("first")
	w := New(fyne.CurrentApp(), again.Session)
	t.Cleanup(w.Stop)
	w.start()
	w.Resize(fyne.NewSize(1280, 800))
	w.Show()
	if err := w.offer.Click("take it up"); err != nil {
		t.Fatal(err)
	}
	if again.Bench().Note != "half a thought" {
		t.Errorf("the bench holds %q", again.Bench().Note)
	}
	if w.offer.Size().Height != 0 {
		t.Error("the offer stays after it was taken up")
	}
}

func TestTheSizeIsRemembered(t *testing.T) {
	_, w := sit(t, "soot", 1500, 850)
	w.keepSize()
	if got := lastSize(); got != fyne.NewSize(1500, 850) {
		t.Errorf("remembered %v", got)
	}
	preferences().SetFloat(widthKey, math.NaN())
	if got := lastSize(); got != firstSize {
		t.Errorf("of a size that is no number %v became", got)
	}
}

func TestADroppedRecordingBecomesAModule(t *testing.T) {
	b, w := sit(t, "soot", 1280, 800)
	tone := make([]float64, 4800)
	for i := range tone {
		tone[i] = 0.5 * math.Sin(2*math.Pi*440*float64(i)/48000)
	}
	var file bytes.Buffer
	if err := recording.WriteWAV(&file, [][]float64{tone}, 48000, recording.Bits16); err != nil {
		t.Fatal(err)
	}
	before := len(b.Patch().Modules)
	w.use(file.Bytes(), "pane.wav", w.sheet.Next)
	b.Until("the recording is there", func() bool { return len(b.Patch().Modules) > before })
	m := b.Patch().Modules[before]
	if m.Kind != "recording" || m.Recording == nil || m.Recording.Name != "pane.wav" {
		t.Errorf("the file became %+v", m)
	}
	for _, other := range b.Patch().Modules[:before] {
		if dx, dy := m.At.X-other.At.X, m.At.Y-other.At.Y; dx > -60 && dx < 60 && dy > -40 && dy < 40 {
			t.Errorf("it lies at %v, over %s at %v", m.At, other.Name, other.At)
		}
	}
	b.Select(desk.Selection{Modules: []string{m.Name}, Cord: -1, Note: -1})
	w.use(file.Bytes(), "vent.wav", w.sheet.Next)
	b.Until("the chosen module plays the other file", func() bool { return b.Patch().Module(m.Name).Recording.Name == "vent.wav" })
}

func TestADroppedPatchIsAnEditAndABadOneIsTold(t *testing.T) {
	b, w := sit(t, "soot", 1280, 800)
	before := b.Patch().Clone()
	w.use([]byte(`{"version": 99}`), "later.json", w.sheet.Next)
	if !b.Patch().Equal(before) || len(b.Notices(desk.AtSheet)) == 0 {
		t.Error("a patch of a later version was taken, or refused without a word")
	}
	w.use([]byte("no sound at all"), "noise.wav", w.sheet.Next)
	b.Until("the file is refused", func() bool { return len(b.Notices(desk.AtSheet)) > 1 })
	if !b.Patch().Equal(before) {
		t.Error("a file that is no sound changed the patch")
	}
}

// BenchmarkRedraw1440x900 measures a frame of the whole window while it plays:
// everything is drawn anew by the software renderer, without a graphics card.
func BenchmarkRedraw1440x900(b *testing.B) {
	bench, w := sit(b, "soot", 1440, 900)
	play(bench, 0.5)
	for b.Loop() {
		b.StopTimer()
		bench.Listen(1.0 / 30)
		b.StartTimer()
		look.Live.Beat()
		w.Canvas().Capture()
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/1e6, "ms/frame")
}

// BenchmarkBeat1440x900 is the part of a frame that is the program's own: what
// is measured, laid out and refreshed before the toolkit draws.
func BenchmarkBeat1440x900(b *testing.B) {
	bench, _ := sit(b, "soot", 1440, 900)
	play(bench, 0.5)
	for b.Loop() {
		b.StopTimer()
		bench.Listen(1.0 / 30)
		b.StartTimer()
		look.Live.Beat()
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/1e6, "ms/frame")
}

func TestTheWindowRestsOnlyWhenNothingIsHeardOrDone(t *testing.T) {
	b, w := sit(t, "soot", 1280, 800)
	rests := func() (so bool) {
		for range restAfter + 10 {
			so = w.resting()
		}
		return so
	}
	if !rests() {
		t.Error("nothing is heard or done, and it does not rest")
	}
	b.Do(desk.SetNote("busy"))
	if w.resting() {
		t.Error("it rests right after an edit")
	}
	key(w, true, "A")
	if rests() {
		t.Error("it rests while a note is held")
	}
	w.hands.ReleaseAll()
	b.Play()
	if rests() {
		t.Error("it rests while the memory is played")
	}
}

func TestATakeThatACommandKeepsIsSeen(t *testing.T) {
	b, w := sit(t, "soot", 1280, 800)
	job := b.Contents()[0]
	before := len(job.Cues[0].Takes)
	other, err := notebook.Open(b.Path, notebook.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer other.Close()
	if _, err := other.Keep(t.Context(), notebook.NewTake{Cue: job.Cues[0].Cue.ID, Patch: *b.Patch(), Memory: b.Bench().Memory, Note: "from elsewhere", Seconds: 0.1}, nil); err != nil {
		t.Fatal(err)
	}
	b.Until("the take is in the contents", func() bool {
		w.looked = time.Time{} // two seconds later
		look.Live.Beat()
		return len(b.Contents()[0].Cues[0].Takes) == before+1
	})
}

func TestWhatIsWrongWithTheNotebookStaysToldWhileTheDemoJobIsLookedAt(t *testing.T) {
	b, w := sit(t, "soot", 1280, 800)
	wrong := desk.Notice{Place: desk.AtContents, Text: "the notebook can't be written", Fault: true}
	b.Notify(wrong)
	w.building(t.Context(), 0.5)
	w.building(t.Context(), 0.9)
	if told := b.Notices(desk.AtContents); len(told) != 2 || told[0] != wrong || !strings.Contains(told[1].Text, "90 %") {
		t.Errorf("told is %v", told)
	}
}
