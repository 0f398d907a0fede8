package memory_test

import (
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"lampblack/patch/memory"
	"pgregory.net/rapid"
)

func TestAnErasedNoteLeavesItsRestAndTheRestCanBeFilled(t *testing.T) {
	erased := tune.Erase(1)
	if n := erased.Notes[1]; !n.Rest || n.At != 0.75 || n.For != 0.25 || len(erased.Notes) != 3 {
		t.Errorf("in place of the erased note is %+v", n)
	}
	filled := erased.Fill(1, a4, 0.5)
	if want := (memory.Note{At: 0.75, For: 0.25, Pitch: a4, Velocity: 0.5}); filled.Notes[1] != want {
		t.Errorf("the filled rest is %+v, want %+v", filled.Notes[1], want)
	}
	if tune.Notes[1].Rest || !erased.Notes[1].Rest {
		t.Error("an edit changed the memory that it was made from")
	}
	var p memory.Player
	p.Use(pass(t, erased, 48000))
	p.Play(0)
	for _, e := range run(&p, 100000, 64) {
		if strings.Contains(e, "E4") {
			t.Errorf("the rest sounds: %s", e)
		}
	}
}

func TestNotesAreMovedAddedAndTakenOut(t *testing.T) {
	m, i := tune.Move(0, 1.2)
	if i != 1 || m.Notes[1].Pitch != d4 || m.Notes[1].At != 1.2 || m.Notes[0].Pitch != e4 {
		t.Errorf("the moved note is number %d of %+v", i, m.Notes)
	}
	m, i = m.Add(memory.Note{At: 1.2, For: 0.1, Pitch: a4, Velocity: 1})
	if i != 2 || m.Notes[2].For != 0.1 {
		t.Errorf("a note at the same time is number %d, want 2: %+v", i, m.Notes)
	}
	if m = m.Remove(2).Stretch(1, 0.7); len(m.Notes) != 3 || m.Notes[1].For != 0.7 || m.Notes[2].At != 1.5 {
		t.Errorf("got %+v", m.Notes)
	}
	if err := m.Validate(); err != nil {
		t.Error(err)
	}
	if m = tune.SetLength(1); len(m.Notes) != 2 || m.Length != 1 || m.Validate() != nil {
		t.Errorf("cut to a second it is %+v", m)
	}
}

func TestTransposingKeepsNotesOnTheirNotes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, by := rapid.IntRange(20, 100).Draw(t, "note"), rapid.IntRange(-24, 24).Draw(t, "semitones")
		m := memory.Memory{Length: 1, Notes: []memory.Note{{For: 1, Pitch: float64(n-69) / 12}}}
		if got, want := m.Transpose(float64(by) / 12).Notes[0].Pitch, float64(n+by-69)/12; got != want {
			t.Fatalf("note %d moved by %d semitones is off by %g octaves", n, by, got-want)
		}
	})
	m := tune.Transpose(1, 2)
	if m.Notes[2].Pitch != 1 || m.Notes[0].Pitch != d4 || tune.Notes[2].Pitch != 0 {
		t.Errorf("one note up an octave: %+v", m.Notes)
	}
	if p := tune.Transpose(0.01).Notes[0].Pitch; math.Abs(p-(d4+0.01)) > 1e-15 {
		t.Errorf("12 cents up is %g", p)
	}
}

func TestANoteThatIsNotThereIsAProgrammersMistake(t *testing.T) {
	for name, f := range map[string]func(){
		"erase": func() { tune.Erase(3) }, "fill": func() { tune.Fill(-1, 0, 1) }, "remove": func() { tune.Remove(3) },
		"move": func() { tune.Move(9, 0) }, "transpose": func() { tune.Transpose(1, 7) },
	} {
		t.Run(name, func(t *testing.T) {
			defer func() {
				if s, ok := recover().(string); !ok || !strings.HasPrefix(s, "memory: there is no note") {
					t.Errorf("it panics with %q", s)
				}
			}()
			f()
		})
	}
}

func TestEveryFaultOfAMemoryIsTold(t *testing.T) {
	nan := math.NaN()
	m := memory.Memory{Length: 3601, Speed: 21, Notes: []memory.Note{
		{At: -1, For: 1}, {At: 2, For: 0}, {At: 2, For: nan}, {At: 2, For: 1, Pitch: 17}, {At: 2, For: 1, Pitch: nan}, {At: 2, For: 1, Velocity: 1.1}, {At: 1, For: 1}, {At: 3601, For: 1}, {At: 2, For: 1e-300},
	}}
	err := m.Validate()
	if err == nil {
		t.Fatal("no fault is told")
	}
	for _, want := range []string{"length is 3601 s; allowed is 0 to 3600 s", "speed is 21; allowed is 0.05 to 20", "note 1: it starts at -1 s", "note 2: it is held for 0 s", "note 3: it is held", "note 4: its pitch is 17 octaves", "note 5: its pitch", "note 6: its velocity is 1.1", "note 7 starts at 1 s, before", "note 8: it starts at 3601 s", "note 9: it is held"} {
		if !strings.Contains(err.Error(), want) {
			t.Errorf("not told: %s", want)
		}
	}
	if err := (memory.Memory{Length: nan, Speed: nan}).Validate(); err == nil || strings.Count(err.Error(), "\n") != 1 {
		t.Errorf("length and speed are no numbers: %v", err)
	}
	if err := (memory.Memory{Notes: make([]memory.Note, 100001)}).Validate(); err == nil || !strings.Contains(err.Error(), "100001 notes; allowed are 100000") {
		t.Error(err)
	}
	if err := (memory.Memory{}).Validate(); err != nil {
		t.Errorf("an empty memory: %v", err)
	}
	if _, err := memory.Prepare(m, 48000); err == nil {
		t.Error("a memory with faults is played")
	}
	for _, rate := range []float64{0, -1, nan, math.Inf(1)} {
		if _, err := memory.Prepare(tune, rate); err == nil {
			t.Errorf("it is played at %g samples a second", rate)
		}
	}
}

func TestAChangedCopySharesNothing(t *testing.T) {
	before := tune.Clone()
	tune.Fill(0, 1, 1)
	tune.Transpose(1)
	tune.Remove(0)
	tune.Move(0, 1.9)
	tune.SetLength(0.5)
	if d := cmp.Diff(before, tune); d != "" {
		t.Error(d)
	}
}
