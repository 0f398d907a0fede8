package desk

import (
	"path/filepath"
	"strings"
	"testing"

	"lampblack/notebook"
	"lampblack/patch"
)

// user plays a person at the bench: every call is something that a person does
// or sees, and fails the test where it does not go as told.
type user struct {
	*Session
	t *testing.T
}

// sitDown opens a session on a notebook in a folder of the test's own.
func sitDown(t *testing.T, path string) *user {
	t.Helper()
	book, err := notebook.Open(path, notebook.Options{})
	if err != nil {
		t.Fatal(err)
	}
	s := New(Options{Book: book, Rate: 48000, Draft: true})
	u := &user{s, t}
	t.Cleanup(u.leave)
	return u
}

func (u *user) leave() {
	if u.book == nil {
		return
	}
	u.Close()
	u.book.Close()
	u.book = nil
}

func newBook(t *testing.T) string { return filepath.Join(t.TempDir(), "test.lampblack") }

func (u *user) add(kind string) string {
	u.t.Helper()
	e, name := AddModule(kind, patch.Point{X: 10, Y: 10}, u.Patch())
	u.does(e)
	return name
}

func (u *user) does(e Edit) {
	u.t.Helper()
	if !u.Do(e) {
		u.t.Fatalf("%s was refused: %v", e.Name, u.notices)
	}
}

func (u *user) joins(from, output, to, input string) {
	u.t.Helper()
	u.does(Join(patch.Socket{Module: from, Name: output}, patch.Socket{Module: to, Name: input}, patch.Setting{}))
}

// setsUpHiss makes the smallest useful patch: noise through a filter.
func (u *user) setsUpHiss() {
	u.t.Helper()
	u.add("noise")
	u.add("filter")
	u.add("output")
	u.joins("noise", "out", "filter", "in")
	u.joins("filter", "band", "output", "left")
}

// listens lets time pass: the engine gives n samples. It returns the highest.
func (u *user) listens(n int) float64 {
	left, right := make([]float64, n), make([]float64, n)
	u.Engine().Block(left, right)
	peak := 0.0
	for _, x := range left {
		peak = max(peak, x, -x)
	}
	return peak
}

func (u *user) sees(place Place, words string) {
	u.t.Helper()
	for _, n := range u.Notices(place) {
		if strings.Contains(n.Text, words) {
			return
		}
	}
	u.t.Fatalf("nothing at place %d speaks of %q: %v", place, words, u.Notices(place))
}

func TestTheMainJobFromAnEmptySheetToAProof(t *testing.T) {
	path := newBook(t)
	u := sitDown(t, path)
	job, _ := u.AddJob("The Glasshouse")
	cue, ok := u.AddCue(notebook.Cue{Job: job, Number: "1M4", Name: "Moths at the lamp"})
	if !ok {
		t.Fatal("the cue was not added")
	}
	u.setsUpHiss()
	if u.listens(4800) == 0 {
		t.Error("the patch is silent")
	}
	u.does(SetControl("filter", "cutoff", patch.Setting{Value: 2100, Unit: "Hz", Text: "2.10 kHz"}))
	u.does(SetNote("Narrow, so that the hiss has a pitch."))
	u.does(SetTags([]string{"moth", " moth", ""}))
	u.Keep()
	if u.Bench().From == 0 || !u.Kept() {
		t.Fatalf("the take was not kept: %v", u.notices)
	}
	if n := u.NextNumber(); n != 2 {
		t.Errorf("the next take is number %d, want 2", n)
	}
	kept := u.Bench().From
	u.leave()

	u = sitDown(t, path) // weeks later
	if _, waiting := u.Draft(); waiting {
		t.Error("a kept take is offered as work that was not kept")
	}
	u.Undo()
	if len(u.Patch().Modules) == 0 {
		t.Error("undo at the start empties the bench")
	}
	u.Recall(kept)
	b := u.Bench()
	if got := b.Patch.Module("filter").Settings["cutoff"].Text; got != "2.10 kHz" {
		t.Errorf("the cutoff came back as %q, want the digits that were typed", got)
	}
	if b.Note != "Narrow, so that the hiss has a pitch." || len(b.Tags) != 1 || b.Cue != cue {
		t.Errorf("note, tags or cue came back as %+v", b)
	}
	u.Prove(kept)
	if proof, state, text := u.ProofOf(kept); state != ProofDone || !proof.Identical {
		t.Errorf("proof: state %d, %s", state, text)
	}
	u.does(SetControl("filter", "width", patch.Setting{Value: 45, Unit: "Hz"}))
	if lines := u.ChangeLines(); len(lines) != 1 || !strings.Contains(lines[0].What, "width") || lines[0].After != "45 Hz" {
		t.Errorf("changes since the parent take: %v", lines)
	}
	if hits, err := u.Search("pitch"); err != nil || len(hits) != 1 {
		t.Errorf("the search found %d takes, %v", len(hits), err)
	}
}

func TestWorkThatWasNotKeptIsOfferedAtTheNextStart(t *testing.T) {
	path := newBook(t)
	u := sitDown(t, path)
	u.setsUpHiss()
	u.does(SetNote("half a thought"))
	want := u.Bench().Clone()
	u.leave()

	u = sitDown(t, path)
	d, ok := u.Draft()
	if !ok || d.Note != "half a thought" {
		t.Fatalf("offered: %v %+v", ok, d)
	}
	u.TakeUpDraft()
	if !u.Bench().Equal(want) {
		t.Error("the work came back changed")
	}
}

func TestNothingIsLostWhenATakeIsRecalledOverWorkNotKept(t *testing.T) {
	path := newBook(t)
	u := sitDown(t, path)
	job, _ := u.AddJob("The Glasshouse")
	u.AddCue(notebook.Cue{Job: job, Number: "1M4", Name: "Moths"})
	u.setsUpHiss()
	u.Keep()
	first := u.Bench().From
	u.does(SetNote("not kept yet"))
	want := u.Bench().Clone()
	u.Recall(first)
	if u.Bench().Note != "" {
		t.Fatalf("the take came back with the note %q", u.Bench().Note)
	}
	u.Undo()
	if !u.Bench().Equal(want) {
		t.Error("undo did not bring the work back")
	}
	u.Redo()

	u.leave() // and after a new start the work is still there
	u = sitDown(t, path)
	asides := u.Asides()
	if len(asides) != 1 || asides[0].Note != "not kept yet" {
		t.Fatalf("set aside: %+v", asides)
	}
	u.TakeUpAside(asides[0].ID)
	if !u.Bench().Equal(want) {
		t.Error("the work that was set aside came back changed")
	}
	if len(u.Asides()) != 0 {
		t.Errorf("taken up, and still among what was set aside: %+v", u.Asides())
	}
}

func TestWhatComesAfterTheEndIsLetGo(t *testing.T) {
	path := newBook(t)
	u := sitDown(t, path)
	u.setsUpHiss()
	u.Close()
	u.does(SetNote("an answer that came late")) // it must not panic
	u.book.Close()
	u.book = nil

	u = sitDown(t, path)
	if d, ok := u.Draft(); !ok || len(d.Patch.Modules) != 3 || d.Note != "" {
		t.Errorf("offered: %v, %d modules, %q", ok, len(d.Patch.Modules), d.Note)
	}
}

// The program ends just when the notebook has taken in a take, before the draft
// knows of it.
func TestATakeThatWasKeptAtTheVeryEndIsNotOfferedAgain(t *testing.T) {
	path := newBook(t)
	u := sitDown(t, path)
	job, _ := u.AddJob("The Glasshouse")
	cue, _ := u.AddCue(notebook.Cue{Job: job, Number: "1M4", Name: "Moths at the lamp"})
	u.setsUpHiss()
	u.Keep()
	first := u.Bench().From
	u.does(SetControl("filter", "cutoff", patch.Setting{Value: 900, Unit: "Hz"}))
	take, err := u.book.Keep(t.Context(), newTake(u.Bench().Clone(), 48000, nil), nil)
	if err != nil || u.Bench().From != first || take.Cue != cue {
		t.Fatalf("%v; the bench comes from %d", err, u.Bench().From)
	}
	u.leave()

	u = sitDown(t, path)
	if _, waiting := u.Draft(); waiting || u.Bench().From != take.ID || !u.Kept() {
		t.Errorf("offered: %v; the bench comes from %d, want %d", waiting, u.Bench().From, take.ID)
	}
	u.does(SetControl("filter", "cutoff", patch.Setting{Value: 901, Unit: "Hz"}))
	u.leave()
	u = sitDown(t, path)
	if d, waiting := u.Draft(); !waiting || d.From != take.ID {
		t.Errorf("what was changed since is not offered: %v, from %d", waiting, d.From)
	}
}

func TestWorkGoesOnBesideAnUnansweredOffer(t *testing.T) {
	path := newBook(t)
	u := sitDown(t, path)
	u.setsUpHiss()
	u.leave()

	u = sitDown(t, path) // the offer stands, and nobody answers it
	u.does(SetNote("something else"))
	if _, waiting := u.Draft(); waiting {
		t.Error("the offer still waits, though other work has begun")
	}
	u.leave()

	u = sitDown(t, path)
	if d, ok := u.Draft(); !ok || d.Note != "something else" {
		t.Errorf("offered: %v, %q", ok, d.Note)
	}
	if len(u.Asides()) != 1 || len(u.Asides()[0].Patch.Modules) != 3 {
		t.Errorf("set aside: %+v", u.Asides())
	}
}

func TestNothingIsKeptTwice(t *testing.T) {
	u := sitDown(t, newBook(t))
	job, _ := u.AddJob("The Glasshouse")
	u.AddCue(notebook.Cue{Job: job, Number: "1M4", Name: "Moths"})
	u.setsUpHiss()
	u.Keep()
	u.Keep()
	u.sees(AtNote, "kept already")
	if n := u.NextNumber(); n != 2 {
		t.Errorf("the next take is number %d, want 2", n)
	}
	u.does(SetNote("drier"))
	if len(u.Notices(AtNote)) != 0 {
		t.Errorf("after a change it still says %v", u.Notices(AtNote))
	}
	u.Keep()
	if n := u.NextNumber(); n != 3 {
		t.Errorf("the next take is number %d, want 3", n)
	}
}

func TestANewSoundBeginsEmptyAndLosesNothing(t *testing.T) {
	u := sitDown(t, newBook(t))
	job, _ := u.AddJob("The Glasshouse")
	cue, _ := u.AddCue(notebook.Cue{Job: job, Number: "1M4", Name: "Moths"})
	u.setsUpHiss()
	want := u.Bench().Clone()
	u.NewSound()
	if b := u.Bench(); !isEmpty(b) || b.From != 0 || b.Cue != cue {
		t.Errorf("the new sound begins with %+v", b)
	}
	if len(u.Asides()) != 1 {
		t.Errorf("set aside: %v", u.Asides())
	}
	u.Undo()
	if !u.Bench().Equal(want) {
		t.Error("undo did not bring the work back")
	}
}

func TestProbeAGoesWhereSomethingIsHeardFirst(t *testing.T) {
	u := sitDown(t, newBook(t))
	u.setsUpHiss()
	if at := u.Probe(ProbeA); at != (patch.Socket{Module: "filter", Name: "band"}) {
		t.Fatalf("probe A is at %v", at)
	}
	u.SetProbe(ProbeA, patch.Socket{})
	u.joins("filter", "low", "output", "right")
	if at := u.Probe(ProbeA); at != (patch.Socket{}) {
		t.Errorf("a probe that was taken away came back at %v", at)
	}
}

func TestWhatOthersWriteIntoTheNotebookIsSeen(t *testing.T) {
	path := newBook(t)
	u := sitDown(t, path)
	seen := 0
	u.Watch(Contents, func() { seen++ })
	u.LookElsewhere()
	if seen != 0 {
		t.Error("nobody wrote, and the contents were read anew")
	}
	other, err := notebook.Open(path, notebook.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer other.Close()
	if _, err := other.AddJob(notebook.Job{Name: "The Glasshouse"}); err != nil {
		t.Fatal(err)
	}
	u.LookElsewhere()
	if len(u.Contents()) != 1 || seen != 1 {
		t.Errorf("%d jobs after %d readings", len(u.Contents()), seen)
	}
}

func TestFoundWorkCanBeLeftForLater(t *testing.T) {
	path := newBook(t)
	u := sitDown(t, path)
	u.setsUpHiss()
	want := u.Bench().Clone()
	u.leave()

	u = sitDown(t, path)
	u.SetAsideDraft()
	u.does(SetNote("something else"))
	u.leave()

	u = sitDown(t, path)
	if d, ok := u.Draft(); !ok || d.Note != "something else" {
		t.Errorf("offered: %v, %q", ok, d.Note)
	}
	if len(u.Asides()) != 1 {
		t.Fatalf("set aside: %+v", u.Asides())
	}
	u.TakeUpAside(u.Asides()[0].ID)
	if !u.Bench().Equal(want) {
		t.Error("the work that was set aside came back changed")
	}
}

func TestATuneIsRecordedMendedAndPlayed(t *testing.T) {
	u := sitDown(t, newBook(t))
	u.setsUpHiss()
	u.Play()
	u.sees(AtMemory, "empty")

	u.ToggleRecord()
	if !u.Waiting() {
		t.Fatal("the recording does not wait for the first note")
	}
	for _, pitch := range []float64{0, 0.25, 0.5} {
		u.NoteOn(pitch, 0.8)
		u.listens(4800)
		u.NoteOff(pitch)
		u.listens(2400)
	}
	u.ToggleRecord()
	m := u.Bench().Memory
	if len(m.Notes) != 3 || m.Notes[0].At != 0 || m.Length < 0.44 || m.Length > 0.46 {
		t.Fatalf("recorded %+v", m)
	}

	u.EraseNote(1)
	if n := u.Bench().Memory.Notes; len(n) != 3 || !n[1].Rest {
		t.Fatalf("after erasing: %+v; want a rest in place of the note", n)
	}
	u.FillRest(1)
	u.NoteOn(-0.5, 0.6)
	u.NoteOff(-0.5)
	if n := u.Bench().Memory.Notes[1]; n.Rest || n.Pitch != -0.5 {
		t.Errorf("the rest was filled with %+v", n)
	}
	u.Undo()
	u.Undo()
	if n := u.Bench().Memory.Notes[1]; n.Rest || n.Pitch != 0.25 {
		t.Errorf("after two undos the note is %+v", n)
	}

	u.SetSpeed(0.5)
	u.Play()
	u.listens(4800)
	if at := u.Position(); at < 0.049 || at > 0.051 {
		t.Errorf("after 0.1 s at half speed the pass stands at %.3f s, want 0.050", at)
	}
	u.listens(48000)
	if u.Playing() {
		t.Error("the memory did not stop at the end of the pass")
	}
	u.ToggleRepeat()
	u.Play()
	u.listens(96000)
	if !u.Playing() {
		t.Error("the memory does not repeat")
	}
	u.StopAtEnd()
	u.listens(96000)
	if u.Playing() {
		t.Error("asked to stop at the end of the pass, the memory went on")
	}
}
