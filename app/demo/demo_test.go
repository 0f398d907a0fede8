package demo

import (
	"context"
	"errors"
	"math"
	"os"
	"path/filepath"
	"sync"
	"testing"

	"lampblack/notebook"
	"lampblack/patch"
	"lampblack/patch/kind"
)

// How much there is in job.json.
const (
	takesInAll = 19
	cuesInAll  = 9
)

// whole builds the demo once, for the tests that only read it.
var whole = sync.OnceValues(func() (*notebook.Book, error) {
	dir, err := os.MkdirTemp("", "demo")
	if err != nil {
		return nil, err
	}
	leave = func() { os.RemoveAll(dir) }
	b, err := notebook.Open(filepath.Join(dir, "demo"+notebook.Extension), notebook.Options{})
	if err != nil {
		return nil, err
	}
	leave = func() { b.Close(); os.RemoveAll(dir) }
	return b, Build(context.Background(), b, nil)
})

var leave = func() {}

func TestMain(m *testing.M) {
	code := m.Run()
	leave()
	os.Exit(code)
}

// built returns a notebook with the demo in it, to be read only.
func built(t testing.TB) *notebook.Book {
	t.Helper()
	b, err := whole()
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func open(t testing.TB) *notebook.Book {
	b, err := notebook.Open(filepath.Join(t.TempDir(), "demo"+notebook.Extension), notebook.Options{})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { b.Close() })
	return b
}

func takes(t *testing.T, b *notebook.Book) (all []notebook.Take, cues int) {
	jobs, err := b.Jobs()
	if err != nil || len(jobs) != 1 || jobs[0].Name != Job {
		t.Fatalf("the notebook's jobs are %v, %v", jobs, err)
	}
	list, err := b.Cues(jobs[0].ID)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range list {
		heads, err := b.Takes(c.ID)
		if err != nil {
			t.Fatal(err)
		}
		for _, h := range heads {
			take, err := b.Take(h.ID)
			if err != nil {
				t.Fatal(err)
			}
			all = append(all, take)
		}
	}
	return all, len(list)
}

func TestTheDemoShowsEveryKindAtASaneLevel(t *testing.T) {
	b := open(t)
	last := -1.0
	if err := Build(t.Context(), b, func(done float64) {
		if done < last || done > 1 {
			t.Errorf("progress goes from %g to %g", last, done)
		}
		last = done
	}); err != nil {
		t.Fatal(err)
	}
	if last != 1 {
		t.Errorf("progress ends at %g, want 1", last)
	}
	all, cues := takes(t, b)
	if len(all) != takesInAll || cues != cuesInAll {
		t.Errorf("%d takes over %d cues; want %d over %d", len(all), cues, takesInAll, cuesInAll)
	}
	used := map[string]bool{}
	recordings := 0
	for _, k := range all {
		for _, m := range k.Patch.Modules {
			used[m.Kind] = true
		}
		recordings += len(k.Recordings)
		// Common practice: peaks of -12 to -3 dBFS leave room and can be heard beside each other.
		if db := 20 * math.Log10(k.Peak); !(db >= -12 && db <= -3) {
			t.Errorf("cue %d take %d peaks at %.1f dBFS; want -12 to -3", k.Cue, k.Number, db)
		}
		if len(k.Note) < 100 || len(k.Tags) == 0 {
			t.Errorf("cue %d take %d: its note (%d letters) or tags (%v) are not worth reading", k.Cue, k.Number, len(k.Note), k.Tags)
		}
	}
	for _, p := range examples(t) {
		for _, m := range p.Modules {
			used[m.Kind] = true
		}
	}
	for _, name := range kind.Names() {
		if !used[name] {
			t.Errorf("no take and no example uses a module of kind %q", name)
		}
	}
	if recordings != 5 {
		t.Errorf("takes bring %d recordings along; want 5: the pane once, the voice and the gardener twice", recordings)
	}
}

func TestEveryProofHolds(t *testing.T) {
	b := built(t)
	all, _ := takes(t, b)
	for _, k := range all {
		if p, err := b.Prove(t.Context(), k.ID, nil); err != nil || !p.OK() {
			t.Errorf("take %d: %v, %v", k.ID, p, err)
		}
	}
}

func TestBuildingAgainChangesNothing(t *testing.T) {
	b := open(t)
	for range 2 {
		if err := Build(t.Context(), b, nil); err != nil {
			t.Fatal(err)
		}
	}
	if all, cues := takes(t, b); len(all) != takesInAll || cues != cuesInAll {
		t.Errorf("%d takes over %d cues after building twice, want %d over %d", len(all), cues, takesInAll, cuesInAll)
	}
}

func TestABuildThatWasCutOffIsFinished(t *testing.T) {
	b := open(t)
	ctx, cancel := context.WithCancel(t.Context())
	err := Build(ctx, b, func(done float64) {
		if done > 0.6 {
			cancel()
		}
	})
	if !errors.Is(err, context.Canceled) {
		t.Fatalf("the cut-off build says %v", err)
	}
	some, _ := takes(t, b)
	if len(some) == 0 || len(some) >= takesInAll {
		t.Fatalf("%d takes after the cut, want some of %d", len(some), takesInAll)
	}
	if err := Build(t.Context(), b, nil); err != nil {
		t.Fatal(err)
	}
	all, _ := takes(t, b)
	if len(all) != takesInAll {
		t.Errorf("%d takes in the end, want %d", len(all), takesInAll)
	}
	for i, k := range some {
		if all[i].ID != k.ID || all[i].SHA256 != k.SHA256 {
			t.Errorf("take %d was made anew", k.ID)
		}
	}
}

// The numbers that the notes speak of are those of the patches.
func TestNotesTellWhatChanged(t *testing.T) {
	b := built(t)
	all, _ := takes(t, b)
	changed := map[string]bool{}
	for _, k := range all {
		if k.From == 0 {
			continue
		}
		parent, err := b.Take(k.From)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range patch.Compare(parent.Patch, k.Patch, kind.Catalogue) {
			changed[c.String()] = true
		}
	}
	for _, want := range []string{
		"reed: width 310 Hz -> 45 Hz",
		"reed: peak +6.0 dB -> +14.0 dB",
		"beat: frequency 18.0 Hz -> 23.0 Hz",
		"wings: depth 40 % -> 80 %",
		"swell: release 400 ms -> 2.4 s",
		"drive: level 1 -6.0 dB -> -10.0 dB",
		"out: level -8.0 dB -> -5.0 dB",
		"travel: release 90 ms -> 4 ms",
		"shower: density 420 Hz -> 900 Hz",
		"dull left: tilt -5.0 dB -> -9.0 dB",
		"pipe: frequency 165 Hz -> 116 Hz",
		"pipe: decay 700 ms -> 1.3 s",
		"left: level 2 -12.0 dB -> -22.0 dB",
		"out: level -5.0 dB -> -1.0 dB",
		"mouth: bands 16 -> 11",
		"mouth: shift 0 oct -> -0.55 oct",
		"mouth: release 40 ms -> 140 ms",
		"speaker: speed 1 -> 0.72",
		"ringing: decay 650 ms -> 480 ms",
		"run up: length 1.6 s -> 3.84 s",
		"whine: frequency 60.0 Hz -> 48.0 Hz",
		"teeth: leak 60 % -> 100 %",
		"pump: level -4.0 dB -> -7.0 dB",
		"reel: speed 0.92 -> 0.7",
		"machine: wow depth 0.25 % -> 0.9 %",
		"machine: drift depth 0.1 % -> 0.4 %",
	} {
		if !changed[want] {
			t.Errorf("no take says %q; what changed is %v", want, changed)
		}
	}
}

func BenchmarkBuild(b *testing.B) {
	for b.Loop() {
		if err := Build(b.Context(), open(b), nil); err != nil {
			b.Fatal(err)
		}
	}
}
