package desk

import (
	"math"
	"testing"

	"lampblack/patch"
	"lampblack/patch/memory"
)

// swayed is a filter whose cutoff of 1 kHz a slow oscillator of 6 Hz moves by an
// octave and another of 2 Hz by a third of that.
func swayed(t *testing.T) *user {
	u := sitDown(t, newBook(t))
	vent, fast, lazy := u.add("filter"), u.add("slow"), u.add("slow")
	u.does(SetControl(fast, "rate", patch.Setting{Value: 6, Unit: "Hz"}))
	u.does(SetControl(lazy, "rate", patch.Setting{Value: 2, Unit: "Hz"}))
	u.does(SetControl(vent, "cutoff", patch.Setting{Value: 1000, Unit: "Hz"}))
	u.does(Join(patch.Socket{Module: fast, Name: "out"}, patch.Socket{Module: vent, Name: "cutoff"}, patch.Setting{Value: 0.75, Unit: "oct"}))
	u.does(Join(patch.Socket{Module: lazy, Name: "out"}, patch.Socket{Module: vent, Name: "cutoff"}, patch.Setting{Value: -0.25, Unit: "oct"}))
	return u
}

// sounds lets the engine run as a loudspeaker does, with fn at the screen's speed.
func (u *user) sounds(seconds float64, fn func()) {
	left, right := make([]float64, 1600), make([]float64, 1600)
	for range int(seconds * 30) {
		u.Engine().Block(left, right)
		fn()
	}
}

// The swings are sines, so a cord of depth d moves 1 kHz from 1000/2^d to
// 1000*2^d, and on a logarithmic ruler the shares go as the depths: 3 to 1.
func TestEachCordsShareOfAMovement(t *testing.T) {
	u := swayed(t)
	c := u.NewCauses(patch.Socket{Module: "filter", Name: "cutoff"})
	u.sounds(2, func() { c.Read() })
	list := c.List()
	if len(list) != 2 {
		t.Fatalf("%d cords", len(list))
	}
	for i, depth := range []float64{0.75, 0.25} {
		l := list[i]
		if want := 1000 * math.Exp2(depth); math.Abs(l.Most-want) > 0.01 || math.Abs(l.Least-1e6/want) > 0.01 || !l.Known || !l.Worked {
			t.Errorf("cord %d at full swing: %+v", i, l)
		}
		// In 2 s the samples come within 0.01 % of the sine's ends.
		if want := 1000 * math.Exp2(depth); math.Abs(l.DidMost-want) > 0.5 || math.Abs(l.DidLeast-1e6/want) > 0.5 || !l.Did {
			t.Errorf("cord %d in fact: %+v", i, l)
		}
		if math.Abs(l.Share-depth) > 1e-3 {
			t.Errorf("cord %d has a share of %.4f, want %.2f", i, l.Share, depth)
		}
	}
}

// A memory from an octave below A4 to half an octave above moves 1 kHz, by an
// octave an octave, from 500 Hz to 1.414 kHz.
func TestThePitchSwingsAsFarAsTheMemorysNotes(t *testing.T) {
	u := sitDown(t, newBook(t))
	u.add("memory")
	u.add("filter")
	u.does(SetControl("filter", "cutoff", patch.Setting{Value: 1000, Unit: "Hz"}))
	at := patch.Socket{Module: "filter", Name: "cutoff"}
	u.does(Join(patch.Socket{Module: "memory", Name: "pitch"}, at, patch.Setting{Value: 1, Unit: "oct"}))
	u.does(SetMemory("a tune", memory.Memory{Length: 2, Notes: []memory.Note{
		{At: 0, For: 0.5, Pitch: -1, Velocity: 1}, {At: 1, For: 0.5, Pitch: 0.5, Velocity: 1}, {At: 1.5, For: 0.5, Pitch: 3, Rest: true},
	}}))
	c := u.NewCauses(at)
	c.Read()
	if l := c.List()[0]; math.Abs(l.Least-500) > 1e-6 || math.Abs(l.Most-1000*math.Sqrt2) > 1e-6 || !l.Known || !l.Worked {
		t.Errorf("at full swing: %+v", l)
	}
}

func TestWhatACordDidBeginsAgainWithTheSweptRange(t *testing.T) {
	u := swayed(t)
	c := u.NewCauses(patch.Socket{Module: "filter", Name: "cutoff"})
	u.sounds(1, func() { c.Read() })
	u.ClearMarks()
	u.sounds(1.0/30, func() { c.Read() })
	// A thirtieth of a second is a fifth of a cycle of 6 Hz: no two ends lie in it.
	if l := c.List()[0]; l.High-l.Low > 1.5 {
		t.Errorf("the signal's reach is still %g to %g", l.Low, l.High)
	}
}

func TestCausesFollowThePatch(t *testing.T) {
	u := swayed(t)
	at := patch.Socket{Module: "filter", Name: "cutoff"}
	c := u.NewCauses(at)
	u.sounds(0.5, func() { c.Read() })
	u.does(SetDepth(patch.Socket{Module: "slow 2", Name: "out"}, at, patch.Setting{Value: 0, Unit: "oct"}))
	u.sounds(0.5, func() { c.Read() })
	if l := c.List(); l[0].Share < 0.9999 || l[1].Share > 1e-4 {
		t.Errorf("a cord of no depth leaves %.3f to the other and keeps %.3f", l[0].Share, l[1].Share)
	}
	u.does(RemoveModules("filter"))
	if c.Read(); len(c.List()) != 0 {
		t.Errorf("of a module that is gone it tells %v", c.List())
	}
}

func TestMovedControlsStandAlongTheSignal(t *testing.T) {
	u := sitDown(t, newBook(t))
	for _, k := range []string{"amplifier", "filter", "slow", "oscillator"} { // against the signal
		u.add(k)
	}
	u.joins("oscillator", "out", "filter", "in")
	u.joins("filter", "low", "amplifier", "in")
	u.joins("amplifier", "out", "oscillator", "phase") // a loop
	for _, to := range [][2]string{{"amplifier", "level"}, {"filter", "cutoff"}, {"slow", "rate"}, {"filter", "boost"}} {
		u.joins("slow", "out", to[0], to[1])
	}
	var got []string
	for _, m := range u.Moved() {
		got = append(got, m.At.Module)
		if n := u.MovedBy(m.At); n != len(m.Cords) || n == 0 {
			t.Errorf("%s is moved by %d cords of %d", m.At, n, len(m.Cords))
		}
	}
	place := map[string]int{}
	for i, name := range got {
		place[name] = i
	}
	if !(place["slow"] < place["filter"] && place["filter"] < place["amplifier"]) {
		t.Errorf("they stand as %v", got)
	}
}

func TestAControlsTapIsLetGoOfWithItsModule(t *testing.T) {
	u := swayed(t)
	at := patch.Socket{Module: "filter", Name: "cutoff"}
	tap := u.TapControl(at)
	if tap == nil || u.TapControl(at) != tap || u.TapControl(patch.Socket{Module: "filter", Name: "colour"}) != nil {
		t.Fatal("a control has one tap, and what is no control has none")
	}
	u.sounds(0.1, func() {})
	end := tap.End()
	u.does(RemoveModules("filter"))
	u.sounds(0.1, func() {})
	if u.TapControl(at) != nil || tap.End() != end {
		t.Error("its tap goes on listening")
	}
}
