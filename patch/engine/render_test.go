package engine

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"io"
	"math"
	"slices"
	"sync"
	"testing"

	"lampblack/patch"
	"lampblack/patch/memory"
	"lampblack/patch/module"
)

func render(t *testing.T, p patch.Patch, m memory.Memory, o RenderOptions) *Rendered {
	t.Helper()
	if o.Rate == 0 {
		o.Rate = testRate
	}
	if o.Kinds == nil {
		o.Kinds = testKinds
	}
	r, err := Render(p, m, o)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// noteOut is a patch that puts out one signal of the note on each side.
func noteOut(left, right string) patch.Patch {
	return build([]string{"n", "note", "out", "output"}, cord{from: "n", out: left, to: "out", in: "left"}, cord{from: "n", out: right, to: "out", in: "right"})
}

func TestAnEmptyMemoryHoldsTheGateAtA4(t *testing.T) {
	r := render(t, noteOut("gate", "pitch"), noMemory, RenderOptions{Seconds: 0.1})
	if got := changes(r.Left); !slices.Equal(got, []string{"0:1"}) || len(r.Left) != 4800 {
		t.Errorf("the gate is %v over %d samples, want 1 over 4800", got, len(r.Left))
	}
	if got := changes(r.Right); !slices.Equal(got, []string{"0:0"}) {
		t.Errorf("the pitch is %v, want 0", got)
	}
	r = render(t, noteOut("trigger", "velocity"), noMemory, RenderOptions{})
	if got := changes(r.Left); !slices.Equal(got, []string{"0:1", "1:0"}) || len(r.Left) != DefaultSeconds*testRate {
		t.Errorf("without a length the trigger is %v over %d samples", got, len(r.Left))
	}
	if got := changes(r.Right); !slices.Equal(got, []string{"0:1"}) {
		t.Errorf("the velocity is %v, want 1", got)
	}
}

func TestARenderOfAMemoryIsOnePassAndTheTailUntilItIsSilent(t *testing.T) {
	m := tune() // 960 samples, the last gate ends at 720
	m.Repeat = true
	quiet := int(SilentSeconds * testRate)
	silent := noteOut("gate", "gate")
	if r := render(t, silent, m, RenderOptions{}); len(r.Left) != 960+quiet {
		t.Errorf("%d samples; want the pass of 960 and %d of silence", len(r.Left), quiet)
	}
	p := setting(build([]string{"v", "value", "out", "output"}, cord{from: "v", out: "out", to: "out", in: "left"}), "v", "value", 1, "")
	if r := render(t, p, m, RenderOptions{}); len(r.Left) != 960+DefaultTail*testRate {
		t.Errorf("a sound that never ends lasts %d samples, want %d", len(r.Left), 960+DefaultTail*testRate)
	}
	if r := render(t, p, m, RenderOptions{Tail: 1}); len(r.Left) != 960+testRate {
		t.Errorf("with a tail of 1 s at most it lasts %d samples", len(r.Left))
	}
	// -90 dBFS is 3.16e-5.
	if r := render(t, setting(p.Clone(), "v", "value", 3.1e-5, ""), m, RenderOptions{}); len(r.Left) != 960+quiet {
		t.Errorf("-90.2 dBFS does not count as silence: %d samples", len(r.Left))
	}
	if r := render(t, setting(p.Clone(), "v", "value", -3.2e-5, ""), m, RenderOptions{Tail: 1}); len(r.Left) != 960+testRate {
		t.Errorf("-89.9 dBFS counts as silence: %d samples", len(r.Left))
	}
	if r := render(t, silent, m, RenderOptions{Seconds: 0.05}); len(r.Left) != 2400 || r.Left[960] != 1 || r.Left[959] != 0 {
		t.Errorf("with a length the memory should repeat; %d samples, %v", len(r.Left), changes(r.Left))
	}
	m.Speed = 0.5
	if r := render(t, silent, m, RenderOptions{}); len(r.Left) != 1920+quiet {
		t.Errorf("at half speed it lasts %d samples", len(r.Left))
	}
}

// However long a render is, it is given block by block: the same samples, the
// same digest, and nothing is allocated on the way.
func TestARenderCanBeTakenBlockByBlock(t *testing.T) {
	for name, p := range map[string]patch.Patch{"mono": busy(), "stereo": noteOut("gate", "pitch")} {
		o := RenderOptions{Rate: testRate, Seconds: 0.5, Kinds: defaultKinds}
		if name == "stereo" {
			o.Kinds, o.Seconds = testKinds, 0
		}
		want := render(t, p, tune(), o)
		r, err := Begin(p, tune(), o)
		if err != nil {
			t.Fatal(err)
		}
		if least, most := r.Samples(); len(want.Left) < least || len(want.Left) > most || (o.Seconds > 0 && least != most) {
			t.Errorf("%s: %d samples, told were %d to %d", name, len(want.Left), least, most)
		}
		digest, n := NewDigest(r.Stereo()), 0
		for {
			left, right, err := r.Next()
			if err == io.EOF {
				break
			}
			if err != nil {
				t.Fatal(err)
			}
			digest.Add(left, right)
			n += len(left)
		}
		if n != len(want.Left) || digest.Sum() != want.SHA256() || r.Stereo() != want.Stereo {
			t.Errorf("%s: %d samples of digest %x; want %d of %x", name, n, digest.Sum(), len(want.Left), want.SHA256())
		}
		if _, _, err := r.Next(); err != io.EOF {
			t.Errorf("%s: behind the end it gives %v", name, err)
		}
	}
	r, err := Begin(busy(), noMemory, RenderOptions{Rate: testRate, Seconds: 3600})
	if err != nil {
		t.Fatal(err)
	}
	digest := NewDigest(false)
	if n := testing.AllocsPerRun(100, func() {
		left, right, _ := r.Next()
		digest.Add(left, right)
	}); n != 0 {
		t.Errorf("%g allocations a block", n)
	}
}

func TestARenderIsWhatTheEngineGivesLive(t *testing.T) {
	m := tune()
	want := render(t, busy(), m, RenderOptions{Seconds: 0.3, Kinds: defaultKinds})
	e := New(testRate)
	e.Swap(compileKind(t, busy()))
	if err := e.SetMemory(m); err != nil {
		t.Fatal(err)
	}
	e.Play(0)
	left, right := hear(e, len(want.Left), 333)
	if i := differ(left, want.Left); i >= 0 {
		t.Errorf("the left side differs from sample %d on", i)
	}
	if i := differ(right, want.Right); i >= 0 {
		t.Errorf("the right side differs from sample %d on", i)
	}
}

func TestOnlyACordIntoTheRightSideMakesItStereo(t *testing.T) {
	p := noteOut("gate", "pitch")
	if r := render(t, p, noMemory, RenderOptions{Seconds: 0.01}); !r.Stereo || len(r.Channels()) != 2 {
		t.Error("with a cord into the right side it is not stereo")
	}
	p.Cords = p.Cords[:1]
	if r := render(t, p, noMemory, RenderOptions{Seconds: 0.01}); r.Stereo || len(r.Channels()) != 1 || &r.Right[0] != &r.Left[0] {
		t.Error("without it, it is; or the right side is not the left")
	}
}

func TestTheSHA256IsOverLittleEndianDoublesLeftAndRightInTurn(t *testing.T) {
	r := &Rendered{Left: []float64{1, -0.5, 0}, Right: []float64{0.25, 2, math.Copysign(0, -1)}, Stereo: true}
	var b bytes.Buffer
	if err := binary.Write(&b, binary.LittleEndian, []float64{1, 0.25, -0.5, 2, 0, math.Copysign(0, -1)}); err != nil {
		t.Fatal(err)
	}
	if r.SHA256() != sha256.Sum256(b.Bytes()) {
		t.Error("stereo")
	}
	r.Stereo = false
	b.Reset()
	if err := binary.Write(&b, binary.LittleEndian, r.Left); err != nil {
		t.Fatal(err)
	}
	if r.SHA256() != sha256.Sum256(b.Bytes()) {
		t.Error("mono")
	}
	long := &Rendered{Left: make([]float64, 100_000)} // more than is hashed at once
	if long.SHA256() != sha256.Sum256(make([]byte, 800_000)) {
		t.Error("long")
	}
}

func TestARenderTellsItsProgressAndCanBeEnded(t *testing.T) {
	last := -1.0
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	o := RenderOptions{Rate: testRate, Kinds: testKinds, Seconds: 1, Context: ctx, Progress: func(done float64) {
		if done <= last || done > 1 {
			t.Errorf("progress goes from %g to %g", last, done)
		}
		last = done
	}}
	render(t, noteOut("gate", "gate"), noMemory, o)
	if last != 1 {
		t.Errorf("progress ends at %g", last)
	}
	o.Progress = func(float64) { cancel() }
	if r, err := Render(noteOut("gate", "gate"), noMemory, o); !errors.Is(err, context.Canceled) || r != nil {
		t.Errorf("a render that was ended gives %v, %v", r, err)
	}
}

func TestARenderRefusesWhatItCannotDo(t *testing.T) {
	p := noteOut("gate", "gate")
	recorded := build([]string{"r", "recording", "out", "output"}, cord{from: "r", out: "left", to: "out", in: "left"})
	recorded.Modules[0].Recording = &patch.Recording{Name: "vent.wav"}
	clip := &module.Clip{Channels: [][]float64{{0}}}
	tests := []struct {
		name string
		p    patch.Patch
		m    memory.Memory
		o    RenderOptions
	}{
		{"a rate of 0", p, noMemory, RenderOptions{Kinds: testKinds}},
		{"a rate too high", p, noMemory, RenderOptions{Rate: MaxRate + 1, Kinds: testKinds}},
		{"a negative length", p, noMemory, RenderOptions{Rate: testRate, Seconds: -1, Kinds: testKinds}},
		{"a length that is no number", p, noMemory, RenderOptions{Rate: testRate, Seconds: math.NaN(), Kinds: testKinds}},
		{"a length over an hour", p, noMemory, RenderOptions{Rate: testRate, Seconds: MaxSeconds + 1, Kinds: testKinds}},
		{"too many samples", p, noMemory, RenderOptions{Rate: MaxRate, Seconds: MaxSeconds / 2, Kinds: testKinds}},
		{"a negative tail", p, noMemory, RenderOptions{Rate: testRate, Tail: -1, Kinds: testKinds}},
		{"a memory at fault", p, memory.Memory{Length: 1, Notes: []memory.Note{{At: 2, For: 1}}}, RenderOptions{Rate: testRate, Kinds: testKinds}},
		{"a pass over an hour at its speed", p, memory.Memory{Length: 3600, Speed: 0.5, Notes: []memory.Note{{For: 1}}}, RenderOptions{Rate: testRate, Kinds: testKinds}},
		{"a kind that is unknown", build([]string{"x", "theremin"}), noMemory, RenderOptions{Rate: testRate, Kinds: testKinds}},
		{"a recording that is not loaded", recorded, noMemory, RenderOptions{Rate: testRate}},
	}
	for _, test := range tests {
		if r, err := Render(test.p, test.m, test.o); err == nil || r != nil {
			t.Errorf("%s was accepted", test.name)
		}
	}
	if _, err := Render(recorded, noMemory, RenderOptions{Rate: testRate, Seconds: 0.1, Clips: map[string]*module.Clip{"r": clip}}); err != nil {
		t.Errorf("with its recording: %v", err)
	}
}

func TestAnEmptyPatchIsSilent(t *testing.T) {
	if r := render(t, patch.Patch{}, noMemory, RenderOptions{Seconds: 0.1}); r.Peak() != 0 || len(r.Left) != 4800 {
		t.Errorf("peak %g over %d samples", r.Peak(), len(r.Left))
	}
}

// Neither the next module nor a tap ever gets what is no number, in a loop or not.
func TestWhatIsNoNumberGoesNoFurther(t *testing.T) {
	chain := build([]string{"b", "broken", "half", "half"}, cord{from: "b", out: "out", to: "half", in: "in"})
	loop := chain.Clone()
	loop.Cords = append(loop.Cords, patch.Cord{From: patch.Socket{Module: "half", Name: "out"}, To: patch.Socket{Module: "b", Name: "in"}})
	alone := build([]string{"b", "broken"})
	for _, test := range []struct {
		name   string
		p      patch.Patch
		module string
		most   float64
	}{{"chain", chain, "half", MaxSignal / 2}, {"loop", loop, "half", MaxSignal / 2}, {"tapped, joined to nothing", alone, "b", MaxSignal}} {
		e := sounding(t, test.p)
		for i, x := range e.output(t, test.module, "out", 60) {
			if want := [3]float64{0, 0, test.most}[i%3]; x != want {
				t.Fatalf("%s: sample %d is %g, want %g", test.name, i, x, want)
			}
		}
	}
}

func TestWhatIsNoNumberBecomesSilenceAndMarksItsModule(t *testing.T) {
	p := build([]string{"b", "broken", "ok", "count", "out", "output"},
		cord{from: "b", out: "out", to: "out", in: "left"})
	e := sounding(t, p)
	left, _ := hear(e, 9, 64)
	// NaN and infinity become 0; 1e300 becomes MaxSignal, and that MaxOutput.
	if got := changes(left); !slices.Equal(got, []string{"0:0", "2:8", "3:0", "5:8", "6:0", "8:8"}) {
		t.Errorf("heard %v", got)
	}
	if !e.Clamped("b") || e.Clamped("ok") {
		t.Errorf("marked: b %t, ok %t; want only b", e.Clamped("b"), e.Clamped("ok"))
	}
	e.ResetSwept()
	if e.Clamped("b") {
		t.Error("the mark stays after ResetSwept")
	}
}

// What graphs share (tables, recordings) is not written to.
func TestRendersSideBySideAreTheSame(t *testing.T) {
	want := render(t, busy(), tune(), RenderOptions{Seconds: 0.2, Kinds: defaultKinds}).SHA256()
	var all sync.WaitGroup
	for range 4 {
		all.Go(func() {
			r, err := Render(busy(), tune(), RenderOptions{Rate: testRate, Seconds: 0.2})
			if err != nil || r.SHA256() != want {
				t.Errorf("another sound, or %v", err)
			}
		})
	}
	all.Wait()
}
