package desk

import (
	"testing"
	"time"

	"pgregory.net/rapid"

	"lampblack/patch"
	"lampblack/patch/kind"
)

func TestADragIsOneStepOfUndo(t *testing.T) {
	u := &user{New(Options{}), t}
	u.setsUpHiss()
	before := u.Bench().Clone()
	for hz := 1000.0; hz < 1100; hz++ {
		u.does(SetControl("filter", "cutoff", patch.Setting{Value: hz, Unit: "Hz"}))
	}
	u.Settle()
	u.does(SetControl("filter", "cutoff", patch.Setting{Value: 50, Unit: "Hz"}))
	u.Undo()
	if got, _ := u.Setting("filter", "cutoff"); got.Value != 1099 {
		t.Errorf("one undo went back to %v, want the end of the drag", got)
	}
	u.Undo()
	if !u.Bench().Equal(before) {
		t.Errorf("two undos left %v", patch.Compare(before.Patch, *u.Patch(), kind.Catalogue))
	}
}

func TestARefusedEditLeavesTheBenchAndSaysWhy(t *testing.T) {
	for name, e := range map[string]Edit{
		"is not a number in":   SetControl("filter", "cutoff", patch.Setting{Value: -5, Unit: "Hz"}),
		"name of another":      RenameModule("filter", "noise"),
		"an unknown kind":      {Name: "x", Apply: func(b *Bench) error { b.Patch.Modules[0].Kind = "trombone"; return nil }},
		"a cord into the void": Join(patch.Socket{Module: "noise", Name: "out"}, patch.Socket{Module: "gone", Name: "in"}, patch.Setting{}),
		"joined twice":         Join(patch.Socket{Module: "noise", Name: "out"}, patch.Socket{Module: "filter", Name: "in"}, patch.Setting{}),
	} {
		u := &user{New(Options{}), t}
		u.setsUpHiss()
		before := u.Bench().Clone()
		if u.Do(e) {
			t.Errorf("%s: was accepted", name)
		}
		if !u.Bench().Equal(before) {
			t.Errorf("%s: the bench has changed", name)
		}
		if len(u.Notices(AtSheet)) == 0 {
			t.Errorf("%s: nothing is told", name)
		}
	}
}

// anyEdit draws an edit that a person could make on p; some are refused.
func anyEdit(p *patch.Patch) *rapid.Generator[Edit] {
	return rapid.Custom(func(t *rapid.T) Edit {
		name := "noise"
		if len(p.Modules) > 0 {
			name = p.Modules[rapid.IntRange(0, len(p.Modules)-1).Draw(t, "module")].Name
		}
		switch rapid.IntRange(0, 8).Draw(t, "edit") {
		case 0:
			return RemoveModules(name)
		case 1:
			return RenameModule(name, rapid.SampledFrom([]string{"reed", "noise", "", "mast / wind"}).Draw(t, "name"))
		case 2:
			return MoveModules(map[string]patch.Point{name: {X: rapid.Float64Range(-10, 2000).Draw(t, "x"), Y: 5}})
		case 3:
			return SetControl("filter", "cutoff", patch.Setting{Value: rapid.Float64Range(-10, 30000).Draw(t, "Hz"), Unit: "Hz"})
		case 4:
			return ResetControl("filter", "cutoff")
		case 5:
			return Join(patch.Socket{Module: name, Name: "out"}, patch.Socket{Module: "filter", Name: "cutoff"}, patch.Setting{})
		case 6:
			return Unjoin(patch.Socket{Module: "noise", Name: "out"}, patch.Socket{Module: "filter", Name: "in"})
		case 7:
			return SetNote(rapid.String().Draw(t, "note"))
		}
		e, _ := AddModule(rapid.SampledFrom(kind.Names()).Draw(t, "kind"), patch.Point{}, p)
		return e
	})
}

func TestUndoOfAnyEditsGivesBackTheBench(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := New(Options{})
		history := []Bench{s.Bench().Clone()}
		for range rapid.IntRange(1, 12).Draw(t, "edits") {
			steps := len(s.steps)
			s.Settle()
			s.Do(anyEdit(s.Patch()).Draw(t, "edit"))
			if len(s.steps) > steps {
				history = append(history, s.Bench().Clone())
			}
		}
		last := len(history) - 1
		for i := last - 1; i >= 0; i-- {
			s.Undo()
			if !s.Bench().Equal(history[i]) {
				t.Fatalf("undo left %v", patch.Compare(history[i].Patch, *s.Patch(), kind.Catalogue))
			}
		}
		for i := 1; i <= last; i++ {
			s.Redo()
			if !s.Bench().Equal(history[i]) {
				t.Fatalf("redo left %v", patch.Compare(history[i].Patch, *s.Patch(), kind.Catalogue))
			}
		}
	})
}

func TestAControlEditIsHeardWithoutANewGraph(t *testing.T) {
	u := &user{New(Options{}), t}
	u.setsUpHiss()
	before := u.listens(48000)
	u.does(SetControl("output", "level", patch.Setting{Value: -90, Unit: "dB"}))
	u.listens(4800)
	if after := u.listens(48000); after > before/1000 {
		t.Errorf("the peak went from %g to %g after the level was set to -90 dB", before, after)
	}
}

func TestThoseWhoWatchAreToldUntilTheyStop(t *testing.T) {
	u := &user{New(Options{}), t}
	told := 0
	stop := u.Watch(Patch, func() { told++ })
	u.add("noise")
	if told == 0 {
		t.Error("a change of the patch was not told")
	}
	stop()
	before := told
	u.add("noise")
	if told != before {
		t.Error("told after the watch was stopped")
	}
}

func TestATapThatNobodyAsksForIsLetGo(t *testing.T) {
	now := time.Date(2026, 1, 1, 12, 0, 0, 0, time.UTC)
	u := &user{New(Options{Now: func() time.Time { return now }}), t}
	u.setsUpHiss()
	noise, filter := patch.Socket{Module: "noise", Name: "out"}, patch.Socket{Module: "filter", Name: "band"}
	first := u.Tap(noise)
	u.Tap(filter)
	for range 20 {
		now = now.Add(time.Second)
		if u.Tap(noise) != first {
			t.Fatal("a tap that is asked for all the time was exchanged")
		}
	}
	if len(u.taps) != 1 {
		t.Errorf("%d taps are held, want the one that is asked for", len(u.taps))
	}
	if u.Tap(patch.Socket{Module: "noise", Name: "gone"}) != nil {
		t.Error("an output that is not there has a tap")
	}
}
