package memory_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"lampblack/patch/memory"
	"pgregory.net/rapid"
)

func TestARecordingIsWhatWasPlayed(t *testing.T) {
	var r memory.Recorder
	r.Start(1000, 48000)
	r.NoteOn(d4, 0.8, 13000)
	r.NoteOn(e4, 0.7, 25000) // D4 is still held
	r.NoteOff(d4, 37000)
	r.NoteOff(a4, 40000) // was never started
	r.NoteOff(e4, 49000)
	r.NoteOn(a4, 1, 73000) // held at the stop
	want := memory.Memory{Length: 2, Notes: []memory.Note{
		{At: 0.25, For: 0.5, Pitch: d4, Velocity: 0.8},
		{At: 0.5, For: 0.5, Pitch: e4, Velocity: 0.7},
		{At: 1.5, For: 0.5, Pitch: a4, Velocity: 1},
	}}
	if d := cmp.Diff(want, r.Stop(97000)); d != "" {
		t.Errorf("-want +got:\n%s", d)
	}
	if m := r.Stop(99000); len(m.Notes) != 0 || m.Length != 0 {
		t.Errorf("a second stop gives %+v", m)
	}
}

func TestAKeyThatRepeatsEndsTheNoteBefore(t *testing.T) {
	var r memory.Recorder
	r.Start(0, 1000)
	r.NoteOn(a4, 1, 100)
	r.NoteOn(a4, 0.5, 300)
	r.NoteOff(a4, 300) // within the same sample: the note still has one
	m := r.Stop(500)
	want := []memory.Note{{At: 0.1, For: 0.2, Velocity: 1}, {At: 0.3, For: 0.001, Velocity: 0.5}}
	if d := cmp.Diff(want, m.Notes); d != "" {
		t.Errorf("-want +got:\n%s", d)
	}
}

func TestARecordingStaysWithinTheLimits(t *testing.T) {
	var r memory.Recorder
	r.NoteOn(a4, 1, 0) // before any start
	if m := r.Stop(5); len(m.Notes) != 0 {
		t.Error("a note before the start is recorded")
	}
	r.Start(0, 1000)
	for i := range int64(memory.MaxNotes + 5) {
		r.NoteOn(a4, 1, i)
	}
	if m := r.Stop(200_000); len(m.Notes) != memory.MaxNotes || m.Validate() != nil {
		t.Errorf("%d notes are recorded", len(m.Notes))
	}
	r.Start(0, 1000)
	r.NoteOn(a4, 1, 10)
	r.NoteOn(e4, 1, 3600_000)
	if m := r.Stop(5000_000); len(m.Notes) != 1 || m.Length != 3600 || m.Validate() != nil {
		t.Errorf("a recording of 5000 s has %d notes and %g s: %v", len(m.Notes), m.Length, m.Validate())
	}
	r.Start(100, 1000)
	r.NoteOn(a4, 1, 200)
	if m := r.Stop(200); m.Validate() != nil || len(m.Notes) != 1 {
		t.Errorf("a key on the last sample: %+v, %v", m, m.Validate())
	}
}

// What is played back has to fall on the samples on which it was played.
func TestARecordingPlaysBackOnItsSamples(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rate := rapid.SampledFrom([]int{44100, 48000, 96000}).Draw(t, "rate")
		start := rapid.Int64Range(0, math.MaxInt32).Draw(t, "start")
		var r memory.Recorder
		var want []string
		r.Start(start, rate)
		now := start
		for i := range rapid.IntRange(0, 10).Draw(t, "notes") {
			now += rapid.Int64Range(0, 50000).Draw(t, "pause")
			r.NoteOn(d4, 1, now)
			want = append(want, fmt.Sprintf("%d on D4 #%d", now-start, i+1))
			now += rapid.Int64Range(1, 50000).Draw(t, "held")
			r.NoteOff(d4, now)
			want = append(want, fmt.Sprintf("%d off D4 #%d", now-start, i+1))
		}
		m := r.Stop(now + 1)
		q, err := memory.Prepare(m, float64(rate))
		if err != nil {
			t.Fatal(err)
		}
		var p memory.Player
		p.Use(q)
		p.Play(0)
		if got := run(&p, int(now-start)+10, 1000); !same(got, want) {
			t.Fatalf("got %v, want %v", got, want)
		}
	})
}
