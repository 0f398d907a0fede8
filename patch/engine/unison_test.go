package engine

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"lampblack/patch"
	"lampblack/patch/memory"
)

// sines is a plain sine on every voice, tuned by the note.
func sines() patch.Patch {
	p := build([]string{"tune", "memory", "osc", "oscillator", "amp", "amplifier", "out", "output"},
		cord{"tune", "pitch", "osc", "frequency", patch.Setting{Value: 1, Unit: "oct"}},
		cord{from: "osc", out: "out", to: "amp", in: "in"},
		cord{"tune", "gate", "amp", "level", patch.Setting{Value: 1, Unit: "x"}},
		cord{from: "amp", out: "out", to: "out", in: "left"})
	return setting(setting(p, "osc", "frequency", 440, "Hz"), "out", "level", -12, "dB")
}

// The voices of a note start on one sample, each on its own pitch.
func TestTheVoicesOfANoteStartTogetherAndApartInPitch(t *testing.T) {
	p := setting(voices(sines(), 6, 3), "tune", "spread", 24.0/1200, "oct")
	g := compileKind(t, p)
	if len(g.notes) != 2 || g.Voices().Count != 6 {
		t.Fatalf("%d notes of %d voices sound at once; want 2 of 6", len(g.notes), g.Voices().Count)
	}
	e := New(testRate)
	e.Swap(g)
	if err := e.SetMemory(memory.Memory{Length: 1, Notes: []memory.Note{{At: 10.0 / testRate, For: 0.5, Pitch: 1, Velocity: 1}, {At: 20.0 / testRate, For: 0.5, Pitch: 2, Velocity: 1}}}); err != nil {
		t.Fatal(err)
	}
	e.Play(0)
	tap := e.Tap("tune", "pitch")
	hear(e, 64, 64)
	shown := make([]float32, 1)
	if !tap.ReadAt(64, shown) || math.Abs(float64(shown[0])-1.99) > 1e-6 {
		t.Errorf("a tap shows a pitch of %.4f; want that of the first voice of the last note, 1.99", shown[0])
	}
	for v := range 6 {
		n := &g.nodes[g.byName["tune"].of(v)]
		start := []int{10, 20}[v/3]
		if got := slices.Index(n.outs[2][1:65], 1); got != start {
			t.Errorf("voice %d starts at sample %d; want %d", v, got, start)
		}
		want := 1 + float64(v/3) + []float64{-12, 0, 12}[v%3]/1200
		if got := n.outs[0][64]; math.Abs(got-want)*1200 > 1e-6 {
			t.Errorf("voice %d stands at %.6f octaves; want %.6f", v, got, want)
		}
	}
}

// Two voices s cents apart at f Hz beat f 2^(s/2400) - f 2^(-s/2400) times a
// second (the difference of two frequencies, acoustics).
func TestTwoVoicesOfANoteBeat(t *testing.T) {
	p := setting(voices(sines(), 2, 2), "tune", "spread", 6.0/1200, "oct")
	r, err := Render(p, noMemory, RenderOptions{Rate: testRate, Seconds: 10})
	if err != nil {
		t.Fatal(err)
	}
	beat := 440 * (math.Exp2(3.0/1200) - math.Exp2(-3.0/1200)) // 1.525 Hz
	for k := range 10 {                                        // the k-th silence is half a beat after the k-th maximum
		at := int((float64(k) + 0.5) / beat * testRate)
		if quiet := peakOf(r.Left[at-100 : at+100]); quiet > 0.015*r.Peak() {
			t.Errorf("after %d and a half beats of %.4f Hz the peak is %g of %g", k, beat, quiet, r.Peak())
		}
	}
}

// A glide sets out from the note that was started last, whichever voice has it.
func TestAGlideComesFromTheLastNoteWhateverItsVoice(t *testing.T) {
	p := setting(voices(sines(), 3, 1), "tune", "glide", 0.01, "s")
	e := starting(t, p)
	tap := e.Tap("tune", "pitch")
	for i, pitch := range []float64{1, 2, 0.5, 1.5} { // the fourth takes over the first one's voice
		e.NoteOn(pitch, 1)
		hear(e, 960, 64)
		got := make([]float32, 960)
		if !tap.ReadAt(e.Clock(), got) {
			t.Fatal("the tap could not be read")
		}
		from := []float64{1, 1, 2, 0.5}[i]
		if got[0] != float32(from) || got[959] != float32(pitch) || math.Abs(float64(got[240])-(from+pitch)/2) > 1e-6 {
			t.Errorf("note %d goes from %g by %g to %g; want %g to %g", i, got[0], got[240], got[959], from, pitch)
		}
	}
}

// A tap shows the voice that was started last, from its first sample on.
func TestATapShowsTheVoiceThatWasStartedLast(t *testing.T) {
	m := memory.Memory{Length: 1, Notes: []memory.Note{
		{At: 100.0 / testRate, For: 0.5, Pitch: 1, Velocity: 1}, {At: 333.0 / testRate, For: 0.001, Pitch: 2, Velocity: 1}, {At: 700.0 / testRate, For: 0.1, Pitch: 3, Velocity: 1}}}
	for _, size := range []int{1, 7, 64, 1000} {
		e := starting(t, voices(sines(), 4, 1))
		tap := e.Tap("tune", "pitch")
		if err := e.SetMemory(m); err != nil {
			t.Fatal(err)
		}
		e.Play(0)
		hear(e, 1000, size)
		got := make([]float32, 1000)
		if !tap.ReadAt(1000, got) {
			t.Fatal("the tap could not be read")
		}
		wide := make([]float64, len(got))
		for i, x := range got {
			wide[i] = float64(x)
		}
		if list := changes(wide); !slices.Equal(list, []string{"0:0", "100:1", "333:2", "700:3"}) {
			t.Errorf("blocks of %d: it shows %v", size, list)
		}
	}
}

// Settings and depths reach every voice; the swept range is that of all of them.
func TestTheDeskReachesEveryVoice(t *testing.T) {
	e := starting(t, voices(sines(), 3, 1))
	for _, pitch := range []float64{-1, 0.5, 0} {
		e.NoteOn(pitch, 1)
	}
	hear(e, 4800, 64)
	if lo, now, hi, ok := e.Swept("osc", "frequency"); !ok || math.Abs(lo-220) > 1e-9 || math.Abs(now-440) > 1e-9 || math.Abs(hi-440*math.Sqrt2) > 1e-9 {
		t.Errorf("the frequency swept %g, %g, %g (%t); want 220, 440 (of the last note), 622.25", lo, now, hi, ok)
	}
	if err := e.Set("osc", "frequency", patch.Setting{Value: 100, Unit: "Hz"}); err != nil {
		t.Fatal(err)
	}
	if err := e.SetDepth(patch.Socket{Module: "tune", Name: "pitch"}, patch.Socket{Module: "osc", Name: "frequency"}, patch.Setting{Value: 2, Unit: "oct"}); err != nil {
		t.Fatal(err)
	}
	hear(e, 9600, 64)
	e.ResetSwept()
	hear(e, 4800, 64)
	if lo, now, hi, ok := e.Swept("osc", "frequency"); !ok || math.Abs(lo-25) > 1e-9 || math.Abs(now-100) > 1e-9 || math.Abs(hi-200) > 1e-9 {
		t.Errorf("after both were set it swept %g, %g, %g (%t); want 25, 100, 200", lo, now, hi, ok)
	}
	e.NoteOn(9, 1) // 26 MHz, in one voice
	hear(e, 64, 64)
	if !e.Limited("osc", "frequency") {
		t.Error("one voice is driven beyond the range, and the control does not say so")
	}
	if err := e.Set("tune", "voices", patch.Setting{Value: 4}); err == nil {
		t.Error("voices were set without another graph")
	}
}

// A chord goes on, to the bit, when a module is added beside it; with more voices
// it goes on too, and with fewer what is left of it does not click.
func TestVoicesGoOnThroughASwap(t *testing.T) {
	p := voices(plucked(), 4, 1)
	more := p.Clone()
	more.Modules = append(more.Modules, patch.Module{Name: "more", Kind: "noise"})
	sound := func(q patch.Patch) []float64 {
		e := starting(t, p)
		for _, pitch := range []float64{-1, -0.5, -0.25} {
			e.NoteOn(pitch, 1)
		}
		before, _ := hear(e, 9600, 64)
		e.Swap(compileKind(t, q))
		after, _ := hear(e, 9600, 64)
		e.AllOff()
		end, _ := hear(e, 24000, 64)
		return slices.Concat(before, after, end)
	}
	want := sound(p)
	for name, q := range map[string]patch.Patch{"a module more": more, "more voices": voices(p.Clone(), 9, 1), "as many as there are notes": voices(p.Clone(), 3, 1)} {
		if i := differ(sound(q), want); i >= 0 {
			t.Errorf("%s: it differs from sample %d on", name, i)
		}
	}
	for name, q := range map[string]patch.Patch{"fewer": voices(p.Clone(), 2, 1), "one": voices(p.Clone(), 1, 1), "unison": voices(p.Clone(), 8, 2)} {
		if db := click(sound(q)[4800:14400]); db > -60 {
			t.Errorf("%s: a click of %.1f dB", name, db)
		}
	}
	if left := sound(voices(p.Clone(), 1, 1)); peakOf(left[41000:]) > 1e-3*peakOf(want) {
		t.Error("a note hangs after voices were taken away")
	}
}

// A voice that goes on as another one's does not take over its noise.
func TestNoiseStaysEachVoicesOwnThroughASwap(t *testing.T) {
	p := build([]string{"tune", "memory", "noise", "noise", "amp", "amplifier", "out", "output"},
		cord{from: "noise", out: "out", to: "amp", in: "in"}, cord{"tune", "gate", "amp", "level", patch.Setting{Value: 1, Unit: "x"}}, cord{from: "amp", out: "out", to: "out", in: "left"})
	e := starting(t, voices(p.Clone(), 2, 1))
	hear(e, 1000, 64)
	g := compileKind(t, voices(p.Clone(), 4, 2))
	e.Swap(g)
	hear(e, 64, 64)
	for v := range 4 {
		for w := range v {
			a, b := g.nodes[g.byName["noise"].of(v)].outs[0], g.nodes[g.byName["noise"].of(w)].outs[0]
			if differ(a[1:], b[1:]) < 0 {
				t.Errorf("voices %d and %d have the same noise", w, v)
			}
		}
	}
}

func TestPatchesOfOtherVoicesCannotShareAGraph(t *testing.T) {
	p := voices(plucked(cord{"slow", "out", "osc", "frequency", patch.Setting{Value: 0.01, Unit: "oct"}}), 4, 1)
	heeding := setting(p.Clone(), "slow", "run", 1, "")
	for name, test := range map[string]struct {
		q    patch.Patch
		same bool
	}{
		"itself":                          {p, true},
		"another rate":                    {setting(p.Clone(), "slow", "rate", 3, "Hz"), true},
		"more voices":                     {voices(p.Clone(), 5, 1), false},
		"unison":                          {voices(p.Clone(), 4, 2), false},
		"another note is taken over":      {setting(p.Clone(), "tune", "steal", 2, ""), false},
		"the slow oscillator heeds notes": {heeding, false},
	} {
		if got := SameVoices(p, test.q, nil); got != test.same {
			t.Errorf("%s: the same graph: %t, want %t", name, got, test.same)
		}
	}
	if !SameVoices(voices(p.Clone(), 1, 1), voices(heeding, 1, 1), nil) {
		t.Error("of one voice all is there once, whatever heeds the notes")
	}
}

func TestManyVoicesDoNotAllocate(t *testing.T) {
	p := setting(setting(voices(plucked(), 16, 2), "tune", "spread", 0.01, "oct"), "tune", "glide", 0.1, "s")
	e := starting(t, p)
	e.Tap("osc", "out")
	m := memory.Memory{Length: 0.1, Repeat: true}
	for i := range 40 {
		m.Notes = append(m.Notes, memory.Note{At: 0.002 * float64(i), For: 0.05, Pitch: float64(i%13) / 12, Velocity: 1})
	}
	if err := e.SetMemory(m); err != nil {
		t.Fatal(err)
	}
	e.Play(0)
	left, right := make([]float64, 512), make([]float64, 512)
	if n := testing.AllocsPerRun(200, func() { e.Block(left, right) }); n != 0 {
		t.Errorf("%g allocations a block", n)
	}
}

// Side by side or one after the other, the voices give the same bits.
func TestTheNumberOfWorkersDoesNotChangeTheBits(t *testing.T) {
	p := voices(plucked(cord{from: "noise", out: "out", to: "mix", in: "1"}, cord{from: "mix", out: "out", to: "amp", in: "in"}, cord{from: "slow", out: "out", to: "mix", in: "2"}, cord{from: "slow", out: "out", to: "out", in: "right"}), 7, 1)
	for _, block := range []int{1, 64, 1000, 4096} {
		var want *Rendered
		for _, workers := range []int{1, 2, 3, 16, 0} {
			r, err := Render(p, chord(9), RenderOptions{Rate: testRate, Seconds: 0.3, Workers: workers, block: block})
			if err != nil {
				t.Fatal(err)
			}
			if want == nil {
				want = r
			}
			if l, s := differ(r.Left, want.Left), differ(r.Right, want.Right); l >= 0 || s >= 0 {
				t.Errorf("%s: differs from sample %d (left), %d (right) on", fmt.Sprintf("blocks of %d, %d workers", block, workers), l, s)
			}
		}
	}
}
