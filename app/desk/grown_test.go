package desk

import (
	"testing"

	"lampblack/patch"
)

func TestAMixerShowsOneInputMoreThanAreInUse(t *testing.T) {
	s := New(Options{})
	defer s.Close()
	for _, name := range []string{"noise", "mixer"} {
		e, _ := AddModule(name, patch.Point{}, s.Patch())
		s.Do(e)
	}
	from := patch.Socket{Module: "noise", Name: "out"}
	shows := func(when string, want int) {
		t.Helper()
		k := s.ShownKind("mixer")
		if len(k.Inputs) != want || len(k.Controls) != want {
			t.Errorf("%s it shows %d inputs and %d levels, want %d", when, len(k.Inputs), len(k.Controls), want)
		}
	}
	shows("at first", 4)
	s.Do(Join(from, patch.Socket{Module: "mixer", Name: "3"}, patch.Setting{}))
	shows("with the third joined", 4)
	s.Do(Join(from, patch.Socket{Module: "mixer", Name: "4"}, patch.Setting{}))
	shows("with the fourth joined", 5)
	s.Do(SetControl("mixer", "level 5", patch.Setting{Value: -6, Unit: "dB"}))
	shows("with the fifth level set", 6)
	s.Do(Join(from, patch.Socket{Module: "mixer", Name: "level 16"}, patch.Setting{}))
	shows("with the last level moved", 16)
	s.Undo()
	shows("after one step back", 6)
	if k := s.ShownKind("noise"); k != s.Kind("noise") {
		t.Error("a kind that does not grow is shown otherwise than it is")
	}
	if s.ShownKind("nobody") != nil {
		t.Error("a module that is not there has a kind")
	}
}
