package desk

import (
	"testing"

	"lampblack/notebook"
	"lampblack/patch"
)

// stepOf is a step that asks for the filter's width to be turned.
func (u *user) stepOf(n int) LessonStep {
	u.t.Helper()
	p := patch.Patch{Seed: 1, Modules: []patch.Module{
		{Name: "vent", Kind: "filter", Settings: map[string]patch.Setting{"width": {Value: 100 * float64(n), Unit: "Hz"}}},
		{Name: "out", Kind: "output"},
	}}
	return LessonStep{Lesson: "hiss", Title: "Hiss", Step: n, Patch: p, Moves: patch.Socket{Module: "vent", Name: "width"}}
}

func (u *user) learns(n int) {
	u.t.Helper()
	if !u.Teach(u.stepOf(n)) {
		u.t.Fatalf("step %d was refused: %v", n, u.notices)
	}
	if l, ok := u.Lesson(); !ok || l.Step != n {
		u.t.Fatalf("after step %d the bench is of %+v, %v", n, l, ok)
	}
}

// opensACue adds a cue; the work is filed there.
func (u *user) opensACue() {
	u.t.Helper()
	job, _ := u.AddJob("The Glasshouse")
	cue, ok := u.AddCue(notebook.Cue{Job: job, Number: "1M1", Name: "Vent"})
	if !ok || u.Bench().Cue != cue {
		u.t.Fatalf("the cue was not opened: %v", u.notices)
	}
}

func TestALessonLosesNothingOfTheWork(t *testing.T) {
	u := sitDown(t, newBook(t))
	u.setsUpHiss()
	u.does(SetNote("not kept yet"))
	work := u.Bench().Clone()
	u.learns(1)
	if len(u.Asides()) != 1 || u.Asides()[0].Note != "not kept yet" {
		t.Fatalf("set aside: %+v", u.Asides())
	}
	u.does(SetControl("vent", "width", patch.Setting{Value: 33, Unit: "Hz"}))
	if !u.LessonOnly() {
		t.Error("what the step asks to be turned counts as work of the learner's own")
	}
	u.learns(2)
	if len(u.Asides()) != 1 {
		t.Errorf("a turned control was set aside: %+v", u.Asides())
	}
	if name, ok := u.BeforeLesson(); !ok || name != "your work" {
		t.Errorf("before the lesson: %q, %v", name, ok)
	}
	u.EndLesson()
	if !u.Bench().Equal(work) {
		t.Error("the work came back changed")
	}
	if _, ok := u.Lesson(); ok || len(u.Asides()) != 0 {
		t.Errorf("a lesson is on the bench: %v; set aside: %+v", ok, u.Asides())
	}
	u.Undo()
	if l, ok := u.Lesson(); !ok || l.Step != 2 {
		t.Errorf("undo leads to %+v, %v", l, ok)
	}
	for range 3 {
		u.Undo()
	}
	if !u.Bench().Equal(work) {
		t.Error("undo does not lead back to the work")
	}
}

func TestWhatALearnerBuildsInALessonIsSetAside(t *testing.T) {
	u := sitDown(t, newBook(t))
	u.learns(1)
	u.add("noise")
	if u.LessonOnly() {
		t.Error("a module that was added does not count as work")
	}
	u.learns(2)
	if len(u.Asides()) != 1 || len(u.Asides()[0].Patch.Modules) != 3 {
		t.Errorf("set aside: %+v", u.Asides())
	}
	if _, ok := u.BeforeLesson(); ok {
		t.Error("there was work before the lesson, on an empty bench")
	}
}

func TestTheWorkBeforeALessonIsNamedAsItStands(t *testing.T) {
	u := sitDown(t, newBook(t))
	u.opensACue()
	u.setsUpHiss()
	u.Keep()
	u.learns(1)
	if name, ok := u.BeforeLesson(); !ok || name != "take 1" {
		t.Errorf("a kept take is named %q, %v", name, ok)
	}
	u.EndLesson()
	u.does(SetNote("narrower"))
	u.learns(1)
	if name, ok := u.BeforeLesson(); !ok || name != "your work on take 1" {
		t.Errorf("work on a take is named %q, %v", name, ok)
	}
}

func TestStepsThatBeginAlikeAreTwo(t *testing.T) {
	u := sitDown(t, newBook(t))
	one, two := u.stepOf(1), u.stepOf(1)
	two.Step = 2
	u.Teach(one)
	u.Teach(two)
	if l, _ := u.Lesson(); l.Step != 2 {
		t.Errorf("the bench is of step %d, want 2", l.Step)
	}
}

func TestTheNextStartGoesOnWithTheWorkBeforeTheLesson(t *testing.T) {
	path := newBook(t)
	u := sitDown(t, path)
	u.setsUpHiss()
	u.opensACue()
	u.Keep()
	kept := u.Bench().Clone()
	u.learns(1)
	u.leave()

	again := sitDown(t, path)
	if _, asks := again.Draft(); asks || !again.Bench().Equal(kept) {
		t.Errorf("asked about a lesson: %v; the bench holds %v", asks, again.Bench().Patch.Modules)
	}
}

func TestALessonCanBeKept(t *testing.T) {
	u := sitDown(t, newBook(t))
	u.setsUpHiss()
	u.learns(1)
	u.Keep()
	if told := u.Notices(AtNote); len(told) != 1 || !told[0].Fault {
		t.Errorf("without a cue it says %+v", told)
	}
	u.opensACue()
	u.Keep()
	from := u.Bench().From
	take, err := u.book.Take(from)
	if err != nil || take.Patch.Module("vent") == nil || take.Note != "From the lesson “Hiss”, step 1." {
		t.Fatalf("kept is %+v, %v", take, err)
	}
	u.learns(2)
	u.EndLesson()
	if u.Patch().Module("noise") == nil {
		t.Error("after a take was kept the work before the lesson does not come back")
	}
}

func TestALessonTakesNoRecordingWithIt(t *testing.T) {
	u := sitDown(t, newBook(t))
	u.setsUpHiss()
	u.ToggleRecord()
	u.NoteOn(0, 0.8)
	u.listens(4800)
	u.NoteOff(0)
	u.learns(1)
	if a := u.Asides(); len(a) != 1 || len(a[0].Memory.Notes) != 1 {
		t.Fatalf("set aside: %+v", a)
	}
	u.EndLesson()
	if len(u.Bench().Memory.Notes) != 1 {
		t.Errorf("%d notes came back, want 1", len(u.Bench().Memory.Notes))
	}
}

func TestALessonThatBeginsWhileATakeIsKeptDoesNotComeFromIt(t *testing.T) {
	var later []func()
	u := sitDown(t, newBook(t))
	u.setsUpHiss()
	u.opensACue()
	u.Session.post = func(fn func()) { later = append(later, fn) }
	u.Keep()
	u.learns(1)
	for len(later) > 0 {
		fn := later[0]
		later = later[1:]
		fn()
	}
	if u.Bench().From != 0 || !u.LessonOnly() || u.Keeping() >= 0 {
		t.Errorf("the lesson comes from take %d; still keeping: %v", u.Bench().From, u.Keeping() >= 0)
	}
	if _, cue, _ := u.CueOf(); len(cue.Takes) != 1 {
		t.Errorf("%d takes were kept, want 1", len(cue.Takes))
	}
}
