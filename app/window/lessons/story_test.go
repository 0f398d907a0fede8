package lessons

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"lampblack/app/desk"
	"lampblack/app/sound"
	"lampblack/app/window/look"
	"lampblack/app/window/look/golden"
	"lampblack/app/window/windowtest"
	"lampblack/assets"
	"lampblack/patch"
)

// learner sits at the column with a keyboard.
type learner struct {
	*windowtest.Bench
	c *Column
	w fyne.Window
	t testing.TB
}

// sit opens the column on a bench with two takes, the second one recalled.
func sit(t testing.TB, theme string, width, height float32) *learner {
	t.Helper()
	b := windowtest.New(t, theme)
	b.Fill()
	c := New(b.Session)
	t.Cleanup(c.Stop)
	w := b.Show(c, width, height)
	c.Come()
	return &learner{b, c, w, t}
}

func (u *learner) press(keys ...fyne.KeyName) {
	u.t.Helper()
	if u.w.Canvas().Focused() != fyne.Focusable(u.c) {
		u.t.Fatalf("the keyboard is at %T", u.w.Canvas().Focused())
	}
	for _, k := range keys {
		u.c.TypedKey(&fyne.KeyEvent{Name: k})
	}
}

// walks goes down until the keyboard is at a place.
func (u *learner) walks(to string) {
	u.t.Helper()
	for _, k := range []fyne.KeyName{fyne.KeyUp, fyne.KeyDown} {
		for range 60 {
			if u.c.Standing() == to {
				return
			}
			u.press(k)
		}
	}
	u.t.Fatalf("the keyboard does not reach %q; there are %q", to, u.c.Names())
}

// begins opens a lesson from the list and takes its first step.
func (u *learner) begins(lesson string) {
	u.t.Helper()
	u.walks("lesson " + lesson)
	u.press(fyne.KeyReturn)
	if u.c.page != ofOpening || u.c.at.key != lesson {
		u.t.Fatalf("page %d after the lesson %q was opened", u.c.page, lesson)
	}
	u.press(fyne.KeyReturn)
	if u.c.page != ofStep || u.c.step != 0 || !u.c.taught() {
		u.t.Fatalf("page %d, step %d after %q was begun: %v", u.c.page, u.c.step, lesson, u.Notices(desk.AtSheet))
	}
}

// asks presses Enter and waits for what is measured.
func (u *learner) asks() {
	u.t.Helper()
	if u.c.Standing() != "answer" {
		u.t.Fatalf("the keyboard stands at %q", u.c.Standing())
	}
	u.press(fyne.KeyReturn)
	u.measured()
}

func (u *learner) measured() {
	u.t.Helper()
	u.Until("the answer is measured", func() bool { return u.c.asks.asked && !u.c.asks.busy })
}

// speaker is a loudspeaker that counts how often its level is set.
type speaker struct{ turned int }

func (s *speaker) SetLevel(float64)       { s.turned++ }
func (s *speaker) Mute(bool)              {}
func (s *speaker) Play(_, _ []float64)    {}
func (s *speaker) StopAudition()          {}
func (s *speaker) Auditioning() bool      { return false }
func (s *speaker) State() (_ sound.State) { return }
func (s *speaker) Close() error           { return nil }

func TestEveryLessonIsWalkedFromItsFirstStepToItsLastByKeyboard(t *testing.T) {
	u := sit(t, "soot", 300, 740)
	before := u.Session.Bench().Clone()
	loud := &speaker{}
	u.Attach(loud)
	for _, e := range u.c.lessons {
		u.begins(e.key)
		for i, step := range e.Steps {
			if u.c.step != i || !u.Patch().Equal(e.At(i, 0)) {
				t.Fatalf("%s: step %d is shown; the bench is not as step %d sets it", e.key, u.c.step+1, i+1)
			}
			if a, b := u.Probe(desk.ProbeA), u.Probe(desk.ProbeB); a != step.Watch.A || b != step.Watch.B {
				t.Errorf("%s, step %d: the probes are at %v and %v", e.key, i+1, a, b)
			}
			if got := u.Chosen(); got != step.Move.Control.Module {
				t.Errorf("%s, step %d: the rulers are of %q", e.key, i+1, got)
			}
			if len(e.Memory.Notes) != len(u.Session.Bench().Memory.Notes) {
				t.Errorf("%s: its notes are not in the memory", e.key)
			}
			u.asks()
			q, got := step.Question, u.c.asks
			switch {
			case got.err != nil:
				t.Errorf("%s, step %d: %v", e.key, i+1, got.err)
			case got.answered.Theory == nil:
				t.Errorf("%s, step %d: no theory: %s", e.key, i+1, got.answered.Why)
			case !q.Within(*got.answered.Theory, got.answered.Value): // the lesson's own claim, in its own unit
				t.Errorf("%s, step %d: measured %s, theory %g, allowed %g", e.key, i+1, got.answered.Text, *got.answered.Theory, q.Tolerance)
			}
			if reached(e) != i+1 {
				t.Errorf("%s: at step %d it is remembered that one is at %d", e.key, i+1, reached(e))
			}
			u.press(fyne.KeyReturn) // next
		}
		if u.c.page != ofEnd || progress(e) != "done" {
			t.Fatalf("%s ends on page %d, %s", e.key, u.c.page, progress(e))
		}
		u.press(fyne.KeyEscape)
	}
	if loud.turned > 0 {
		t.Errorf("the listening level was changed %d times", loud.turned)
	}
	u.walks("put back")
	u.press(fyne.KeyReturn)
	if !u.Session.Bench().Equal(before) || len(u.Asides()) != 0 {
		t.Errorf("the take does not come back as it was; set aside are %d pieces of work", len(u.Asides()))
	}
}

func TestWorkThatWasNotKeptComesBack(t *testing.T) {
	u := sit(t, "soot", 300, 740)
	u.Do(desk.SetNote("half a thought"))
	work := u.Session.Bench().Clone()
	u.begins("pulse")
	if len(u.Asides()) != 1 || u.Asides()[0].Note != "half a thought" {
		t.Fatalf("set aside: %v", u.Asides())
	}
	u.press(fyne.KeyPageDown, fyne.KeyPageDown, fyne.KeyPageDown)
	if u.c.page != ofEnd {
		t.Fatalf("page %d", u.c.page)
	}
	u.walks("put back")
	u.press(fyne.KeyReturn)
	if !u.Session.Bench().Equal(work) || len(u.Asides()) != 0 {
		t.Error("the work did not come back")
	}
}

func TestTheAnswerFollowsTheControl(t *testing.T) {
	u := sit(t, "soot", 300, 740)
	u.begins("beating")
	u.asks()
	if got := u.c.asks.answered.Value; math.Abs(got-1) > 0.1 { // |501 - 500| Hz
		t.Errorf("measured %g Hz, want 1", got)
	}
	u.Do(desk.SetControl("other pane", "frequency", patch.Setting{Value: 507, Unit: "Hz"}))
	if !u.c.asks.busy {
		t.Error("nothing is measured after the control was turned")
	}
	u.measured()
	if got := u.c.asks.answered.Value; math.Abs(got-7) > 0.1 || u.c.asks.working != "abs(507 − 500)" {
		t.Errorf("measured %g Hz, want 7; worked out as %q", got, u.c.asks.working)
	}
	u.walks("reset")
	u.press(fyne.KeyReturn)
	if !u.c.asSet() {
		t.Error("it does not stand as the lesson sets it")
	}
	u.measured()
	if got := u.c.asks.answered.Value; math.Abs(got-1) > 0.1 {
		t.Errorf("measured %g Hz, want 1 again", got)
	}
}

func TestAnAnswerToAPageThatWasTurnedIsDropped(t *testing.T) {
	u := sit(t, "soot", 300, 740)
	u.begins("beating")
	u.press(fyne.KeyReturn, fyne.KeyPageDown)
	if u.c.step != 1 || u.c.asks.asked {
		t.Fatalf("step %d, asked: %v", u.c.step+1, u.c.asks.asked)
	}
	u.asks() // comes after the old one, which would have been told first
	if got := u.c.asks.answered.Value; math.Abs(got-15) > 0.5 {
		t.Errorf("measured %g Hz, want 15", got)
	}
}

func TestALearnersOwnAnswerIsHeldAgainstWhatIsMeasured(t *testing.T) {
	u := sit(t, "soot", 300, 740)
	u.begins("beating")
	q := u.c.at.Steps[0].Question
	for _, c := range []struct{ typed, want string }{
		{"1 Hz", "right"}, {"1,05", "right"}, {"0.4", "not yet: more"}, {"3", "not yet: less"},
	} {
		u.walks("yours")
		u.press(fyne.KeyReturn)
		if u.w.Canvas().Focused() != fyne.Focusable(u.c.yours) {
			t.Fatal("the field has not the keyboard")
		}
		u.c.yours.SetText(c.typed)
		u.c.yours.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
		u.measured()
		if got := u.c.verdict(q); got != c.want {
			t.Errorf("%q is %q, want %q", c.typed, got, c.want)
		}
	}
	u.walks("yours")
	u.press(fyne.KeyReturn)
	u.c.yours.SetText("soon")
	u.c.yours.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if u.c.asks.wrong == "" {
		t.Error("a word passes for a number")
	}
}

func TestTheControlGoesByItselfUntilAHandTakesHold(t *testing.T) {
	u := sit(t, "soot", 300, 740)
	u.begins("beating")
	undo := u.UndoName()
	u.walks("by itself")
	u.press(fyne.KeyReturn)
	for range sweepBeats / 2 {
		look.Live.Beat()
	}
	if part, ok := u.c.part(); !ok || math.Abs(part-0.5) > 0.01 || !u.c.sweep.on {
		t.Errorf("after half of the time it stands at %g, %v", part, ok)
	}
	for range sweepBeats {
		look.Live.Beat()
	}
	if got := u.Patch().Module("other pane").Settings["frequency"]; got.Value != 515 || u.c.sweep.on {
		t.Errorf("it ends at %v; going on: %v", got, u.c.sweep.on)
	}
	u.Undo()
	if u.UndoName() != undo {
		t.Errorf("the way is more than one step of undo: next is %q", u.UndoName())
	}
	u.press(fyne.KeyReturn)
	look.Live.Beat()
	u.Do(desk.SetControl("other pane", "frequency", patch.Setting{Value: 509, Unit: "Hz"}))
	look.Live.Beat()
	look.Live.Beat()
	if got := u.Patch().Module("other pane").Settings["frequency"].Value; got != 509 || u.c.sweep.on {
		t.Errorf("under a hand it goes on to %g", got)
	}
}

func TestThePageFollowsUndo(t *testing.T) {
	u := sit(t, "soot", 300, 740)
	u.begins("pulse")
	u.press(fyne.KeyPageDown)
	u.Undo()
	if u.c.step != 0 || !u.c.taught() {
		t.Errorf("step %d is shown", u.c.step+1)
	}
	u.Undo()
	if u.c.taught() || u.c.page != ofStep {
		t.Error("the work before the lesson passes for its step")
	}
	u.walks("reset")
	u.press(fyne.KeyReturn)
	if !u.c.taught() {
		t.Error("the step does not come back to the bench")
	}
}

func TestAnOwnFileIsOpenedAndABadOneToldWithItsLine(t *testing.T) {
	u := sit(t, "soot", 300, 740)
	file, err := assets.Lesson(assets.Lessons()[4])
	if err != nil {
		t.Fatal(err)
	}
	bad := strings.Replace(string(file), `"scope"`, `"telescope"`, 1)
	if !IsLesson(file) || IsLesson([]byte(`{"lampblack patch": 1}`)) {
		t.Error("a lesson and a patch are not told apart")
	}
	u.c.Read([]byte(bad), "mine.json", "")
	if told := strings.Join(u.c.faults, "\n"); u.c.page != ofList || !strings.Contains(told, "line ") || !strings.Contains(told, "spectrogram") {
		t.Errorf("page %d, told is %q; want the line, and which instruments there are", u.c.page, told)
	}
	path := filepath.Join(t.TempDir(), "mine.json")
	if err := os.WriteFile(path, file, 0o600); err != nil {
		t.Fatal(err)
	}
	count := len(u.c.lessons)
	for range 2 { // opened again it takes its own place
		u.c.Read(file, "mine.json", path)
	}
	if len(u.c.lessons) != count+1 || u.c.page != ofOpening || len(u.c.faults) > 0 {
		t.Errorf("%d lessons, page %d, faults %q", len(u.c.lessons), u.c.page, u.c.faults)
	}
	u.Until("it is checked", func() bool { return u.c.at.checked != checking })
	if u.c.at.checked != holds {
		t.Errorf("the check says %q", u.c.at.checked)
	}
	u.press(fyne.KeyReturn)
	if !u.c.taught() {
		t.Error("the file's lesson does not begin")
	}
	next := New(u.Session) // the next start
	t.Cleanup(next.Stop)
	next.Come()
	u.Until("it is on the list again", func() bool { return len(next.lessons) == count+1 })
	if got := progress(next.lessons[count]); got != "at 1 of 3" {
		t.Errorf("it is remembered as %q", got)
	}
	u.press(fyne.KeyPageUp)
	u.walks("take off")
	u.press(fyne.KeyReturn)
	if len(u.c.lessons) != count || len(files()) != 0 {
		t.Errorf("%d lessons are listed, and %q for the next time", len(u.c.lessons), files())
	}
	if _, err := os.Stat(path); err != nil {
		t.Error("the file was removed")
	}
}

func TestALoudOwnFileSaysSo(t *testing.T) {
	u := sit(t, "soot", 300, 740)
	file, err := os.ReadFile("../../../assets/lessons/05-pulse.json")
	if err != nil {
		t.Fatal(err)
	}
	loud := strings.Replace(string(file), `"name": "out",`, `"name": "out",`, 1)
	i := strings.Index(loud, `"level": "-`)
	if i < 0 {
		t.Fatal("the lesson sets no level")
	}
	end := strings.Index(loud[i+10:], `"`) + i + 10
	loud = loud[:i] + `"level": "0 dB` + loud[end:]
	u.c.Read([]byte(loud), "loud.json", "")
	u.Until("it is checked", func() bool { return u.c.at.checked != checking })
	if !strings.Contains(u.c.at.checked, "dBFS") || u.c.at.checked == holds {
		t.Errorf("the check says %q; %v", u.c.at.checked, u.c.faults)
	}
}

func TestWhatIsWrongWithTheNotebookIsToldHere(t *testing.T) {
	u := sit(t, "soot", 300, 740)
	u.begins("pulse")
	u.Notify(desk.Notice{Place: desk.AtContents, Text: "the work could not be set aside", Fault: true})
	if err := u.c.Click("put away 1"); err != nil {
		t.Fatal(err)
	}
	if len(u.Notices(desk.AtContents)) != 0 {
		t.Error("it can't be put away")
	}
}

func TestWhereOneStandsIsRemembered(t *testing.T) {
	u := sit(t, "soot", 300, 740)
	u.begins("hiss")
	u.press(fyne.KeyPageDown, fyne.KeyEscape)
	c := New(u.Session) // the next start
	t.Cleanup(c.Stop)
	for _, e := range c.lessons {
		want := ""
		if e.key == "hiss" {
			want = "at 2 of 3"
		}
		if got := progress(e); want != "" && got != want || want == "" && strings.HasPrefix(got, "at") {
			t.Errorf("%s: %s", e.key, got)
		}
	}
	u.press(fyne.KeyReturn, fyne.KeyReturn) // the list stands at the lesson, its page at "go on"
	if u.c.page != ofStep || u.c.step != 1 {
		t.Errorf("it goes on at step %d of page %d", u.c.step+1, u.c.page)
	}
}

func TestALongPageTurnsAndSaysSo(t *testing.T) {
	u := sit(t, "soot", 300, 420)
	u.begins("voice")
	if u.c.most < 1 {
		t.Fatal("the page is not too long")
	}
	seen := func(name string) bool {
		for _, r := range u.c.rows {
			for _, n := range r.names {
				if n == name {
					return true
				}
			}
		}
		return false
	}
	if !seen("answer") || u.c.off < 1 {
		t.Errorf("the keyboard stands at the answer, and the page is turned by %g", u.c.off)
	}
	u.walks("control")
	if u.c.off > u.c.most/2 {
		t.Errorf("the keyboard went up to the control, and the page is turned by %g of %g", u.c.off, u.c.most)
	}
	for range 30 {
		u.c.Scroll(150, 200, -1)
	}
	if u.c.off != u.c.most {
		t.Errorf("the wheel turns to %g of %g", u.c.off, u.c.most)
	}
	if err := u.c.Click("more"); err != nil || u.c.off != 0 {
		t.Errorf("a press on the word turns to %g, %v", u.c.off, err)
	}
}

func TestPictures(t *testing.T) {
	for _, theme := range windowtest.Themes {
		u := sit(t, theme, 314, 765)
		golden.Check(t, "list-"+theme+".png", u.w.Canvas())
		u.begins("beating")
		u.press(fyne.KeyPageUp)
		golden.Check(t, "opening-"+theme+".png", u.w.Canvas())
		u.press(fyne.KeyReturn)
		golden.Check(t, "step-"+theme+".png", u.w.Canvas())
		u.Do(desk.SetControl("other pane", "frequency", patch.Setting{Value: 507, Unit: "Hz"}))
		u.asks()
		golden.Check(t, "answer-"+theme+".png", u.w.Canvas())
		u.press(fyne.KeyPageDown, fyne.KeyPageDown, fyne.KeyPageDown)
		golden.Check(t, "end-"+theme+".png", u.w.Canvas())
		file, _ := os.ReadFile("../../../assets/lessons/05-pulse.json")
		u.c.Read([]byte(strings.Replace(string(file), `"scope"`, `"telescope"`, 1)), "mine.json", "")
		golden.Check(t, "faults-"+theme+".png", u.w.Canvas())
	}
}

// BenchmarkWrite is one writing of a full page, as it happens with every change
// of a control while it is turned.
func BenchmarkWrite(b *testing.B) {
	u := sit(b, "soot", 314, 765)
	u.begins("voice")
	u.asks()
	for b.Loop() {
		u.c.Refresh()
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/1e6, "ms/page")
}
