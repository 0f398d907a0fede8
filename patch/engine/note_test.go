package engine

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"lampblack/patch"
	"lampblack/patch/memory"
)

func notes() patch.Patch {
	return build([]string{"n", "note", "out", "output"})
}

// changes lists the samples at which x changes, and to what; it begins with the
// first sample.
func changes(x []float64) (list []string) {
	for i, v := range x {
		if i == 0 || v != x[i-1] {
			list = append(list, fmt.Sprintf("%d:%.4g", i, v))
		}
	}
	return list
}

// listen returns the note's signals over n samples.
func listen(t *testing.T, e *Engine, n, size int) map[string][]string {
	t.Helper()
	names := []string{"pitch", "gate", "trigger", "velocity"}
	taps := make([]*Tap, len(names))
	for i, name := range names {
		taps[i] = e.Tap("n", name)
	}
	hear(e, n, size)
	heard := map[string][]string{}
	for i, name := range names {
		got := make([]float32, n)
		if _, ok := taps[i].Read(got); !ok {
			t.Fatal("the tap could not be read")
		}
		wide := make([]float64, n)
		for k, x := range got {
			wide[k] = float64(x)
		}
		heard[name] = changes(wide)
		e.Untap(taps[i])
	}
	return heard
}

func expect(t *testing.T, heard map[string][]string, name string, want ...string) {
	t.Helper()
	if !slices.Equal(heard[name], want) {
		t.Errorf("%s is %v, want %v", name, heard[name], want)
	}
}

func TestLiveKeysTheNewestNoteIsHeard(t *testing.T) {
	e := sounding(t, notes())
	expect(t, listen(t, e, 100, 64), "gate", "0:0")

	e.NoteOn(0.5, 0.75)
	got := listen(t, e, 100, 64)
	expect(t, got, "pitch", "0:0.5")
	expect(t, got, "gate", "0:1")
	expect(t, got, "trigger", "0:1", "1:0")
	expect(t, got, "velocity", "0:0.75")

	e.NoteOn(1, 0.25) // legato: the gate stays, the trigger tells
	got = listen(t, e, 100, 64)
	expect(t, got, "pitch", "0:1")
	expect(t, got, "gate", "0:1")
	expect(t, got, "trigger", "0:1", "1:0")

	e.NoteOff(1) // the note before is still held
	got = listen(t, e, 100, 64)
	expect(t, got, "pitch", "0:0.5")
	expect(t, got, "gate", "0:1")
	expect(t, got, "trigger", "0:0")

	e.NoteOn(math.NaN(), 1)
	e.NoteOn(math.Inf(1), 1)
	expect(t, listen(t, e, 100, 64), "pitch", "0:0.5")

	e.NoteOff(0.5)
	got = listen(t, e, 100, 64)
	expect(t, got, "pitch", "0:0.5") // stays, for the release
	expect(t, got, "gate", "0:0")
}

func TestAllOffLetsGoOfEveryKeyAndStopsTheMemory(t *testing.T) {
	e := sounding(t, notes())
	if err := e.SetMemory(memory.Memory{Length: 10, Notes: []memory.Note{{At: 0, For: 10, Pitch: 1, Velocity: 1}}}); err != nil {
		t.Fatal(err)
	}
	e.Play(0)
	for i := range 200 { // more than can be held
		e.NoteOn(float64(i)/100, 1)
	}
	expect(t, listen(t, e, 100, 64), "gate", "0:1")
	e.AllOff()
	expect(t, listen(t, e, 100, 64), "gate", "0:0")
	if _, playing := e.Position(); playing {
		t.Error("the memory still plays")
	}
}

// If the loudspeaker was away and the ring ran over, ends of notes may be lost;
// then all are let go.
func TestNoNoteHangsWhenTheRingRunsOver(t *testing.T) {
	e := sounding(t, notes())
	for range 10 * ringSize {
		e.NoteOn(1, 1)
	}
	e.NoteOff(1)
	expect(t, listen(t, e, 100, 64), "gate", "0:0")
	e.NoteOn(1, 1)
	expect(t, listen(t, e, 100, 64), "gate", "0:1")
}

func tune() memory.Memory {
	return memory.Memory{Length: 0.02, Notes: []memory.Note{
		{At: 0, For: 0.005, Pitch: 0, Velocity: 1},
		{At: 0.005, For: 0.005, Pitch: 1, Velocity: 0.5},
		{At: 0.0125, For: 0.0025, Pitch: -1, Velocity: 0.25},
	}}
}

func TestTheMemorysNotesLandOnTheirSample(t *testing.T) {
	for _, size := range []int{1, 7, 64, 1000} {
		e := sounding(t, notes())
		if err := e.SetMemory(tune()); err != nil {
			t.Fatal(err)
		}
		e.Play(0)
		got := listen(t, e, 1200, size)
		// 48 samples a millisecond.
		expect(t, got, "gate", "0:1", "480:0", "600:1", "720:0")
		expect(t, got, "trigger", "0:1", "1:0", "240:1", "241:0", "600:1", "601:0")
		expect(t, got, "pitch", "0:0", "240:1", "600:-1")
		expect(t, got, "velocity", "0:1", "240:0.5", "600:0.25")
		if _, playing := e.Position(); playing {
			t.Error("it plays on behind the end of the pass")
		}
	}
}

func TestTheMemoryRepeatsStopsAtItsEndAndKeepsItsPlaceWhenEdited(t *testing.T) {
	e := sounding(t, notes())
	m := tune()
	m.Repeat = true
	if err := e.SetMemory(m); err != nil {
		t.Fatal(err)
	}
	e.Play(0)
	got := listen(t, e, 960+700, 64)
	expect(t, got, "trigger", "0:1", "1:0", "240:1", "241:0", "600:1", "601:0", "960:1", "961:0", "1200:1", "1201:0", "1560:1", "1561:0")
	if at, playing := e.Position(); !playing || at < 0.0145 || at > 0.0147 {
		t.Errorf("it is at %g s (%t), want 700 samples into the pass, 0.0146 s", at, playing)
	}
	m.Notes[0].Pitch = 2 // an edit while it plays: no stop, heard in the next pass
	if err := e.SetMemory(m); err != nil {
		t.Fatal(err)
	}
	got = listen(t, e, 260+100, 64)
	expect(t, got, "trigger", "0:0", "260:1", "261:0")
	expect(t, got, "pitch", "0:-1", "260:2")
	e.StopAtEnd()
	got = listen(t, e, 2000, 64)
	expect(t, got, "gate", "0:1", "380:0", "500:1", "620:0")
	if _, playing := e.Position(); playing {
		t.Error("it plays on behind the end of the pass")
	}
}

// A pass of 20 ms at 48 kHz has 960 samples.
func TestTheSampleAtWhichAPassBeginsIsTold(t *testing.T) {
	for _, size := range []int{1, 7, 64, 960, 2000} {
		e := sounding(t, notes())
		m := tune()
		m.Repeat = true
		if err := e.SetMemory(m); err != nil {
			t.Fatal(err)
		}
		listen(t, e, 100, 50)
		if clock, ok := e.PassBegan(); ok {
			t.Errorf("before it played, a pass began at %d", clock)
		}
		start := e.Clock()
		e.Play(0.005)
		listen(t, e, 500, size) // to the middle of the pass
		if clock, ok := e.PassBegan(); ok {
			t.Errorf("blocks of %d: played from the middle of the pass, it began at %d", size, clock)
		}
		listen(t, e, 500, size)
		if clock, ok := e.PassBegan(); !ok || clock != start+960-240 {
			t.Errorf("blocks of %d: the second pass began at %d (%t), want %d", size, clock, ok, start+960-240)
		}
		again := e.Clock()
		e.Play(0)
		listen(t, e, 3*960, size) // the last sample of the third pass
		if clock, ok := e.PassBegan(); !ok || clock != again+2*960 {
			t.Errorf("blocks of %d: the fourth pass began at %d (%t), want %d", size, clock, ok, again+2*960)
		}
	}
}

func TestStopEndsTheMemorysNotesAndLeavesLiveKeysHeld(t *testing.T) {
	e := sounding(t, notes())
	if err := e.SetMemory(memory.Memory{Length: 1, Notes: []memory.Note{{At: 0, For: 1, Pitch: 1, Velocity: 1}}}); err != nil {
		t.Fatal(err)
	}
	e.Play(0)
	hear(e, 64, 64)
	e.NoteOn(0.25, 1) // the last event wins
	expect(t, listen(t, e, 64, 64), "pitch", "0:0.25")
	e.Stop()
	got := listen(t, e, 64, 64)
	expect(t, got, "gate", "0:1")
	expect(t, got, "pitch", "0:0.25")
	e.NoteOff(0.25)
	expect(t, listen(t, e, 64, 64), "gate", "0:0")
}

func TestOpenInputsHearTheNoteBeingPlayed(t *testing.T) {
	p := build([]string{"o", "open", "out", "output"}, cord{from: "o", out: "gate", to: "out", in: "left"}, cord{from: "o", out: "trigger", to: "out", in: "right"})
	e := sounding(t, p)
	e.NoteOn(0, 1)
	left, right := hear(e, 100, 64)
	if got := changes(left); !slices.Equal(got, []string{"0:1"}) {
		t.Errorf("the gate is %v", got)
	}
	if got := changes(right); !slices.Equal(got, []string{"0:1", "1:0"}) {
		t.Errorf("the trigger is %v", got)
	}
}

func TestABadMemoryIsRefusedAndTheOneBeforePlaysOn(t *testing.T) {
	e := sounding(t, notes())
	if err := e.SetMemory(tune()); err != nil {
		t.Fatal(err)
	}
	if err := e.SetMemory(memory.Memory{Length: -1}); err == nil {
		t.Error("a length of -1 s was accepted")
	}
	e.Play(0)
	expect(t, listen(t, e, 100, 64), "gate", "0:1")
}

// However many notes begin within one block, each stands on its sample.
func TestManyNotesWithinABlockStandOnTheirSamples(t *testing.T) {
	m := memory.Memory{Length: 1}
	var want []string
	for i := range 30 {
		m.Notes = append(m.Notes, memory.Note{At: float64(10+i) / testRate, For: 0.5, Pitch: float64(i) / 4, Velocity: 1})
		want = append(want, fmt.Sprintf("%d:%.4g", 10+i, float64(i)/4))
	}
	e := sounding(t, notes())
	if err := e.SetMemory(m); err != nil {
		t.Fatal(err)
	}
	e.Play(0)
	want[0] = "0:0" // the first note's pitch is what it was before
	expect(t, listen(t, e, 64, 64), "pitch", want...)
}
