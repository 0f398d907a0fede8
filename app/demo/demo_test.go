package demo

import (
	"context"
	"errors"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"lampblack/notebook"
	"lampblack/patch"
	"lampblack/patch/kind"
)

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
	if len(all) < 6 || cues != 3 {
		t.Errorf("%d takes over %d cues; want 6 or more over 3", len(all), cues)
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
	for _, name := range kind.Names() {
		if !used[name] {
			t.Errorf("no take uses a module of kind %q", name)
		}
	}
	if recordings == 0 {
		t.Error("no take has a recording as its source")
	}
}

func TestEveryProofHolds(t *testing.T) {
	b := open(t)
	if err := Build(t.Context(), b, nil); err != nil {
		t.Fatal(err)
	}
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
	if all, cues := takes(t, b); len(all) != 7 || cues != 3 {
		t.Errorf("%d takes over %d cues after building twice, want 7 over 3", len(all), cues)
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
	if len(some) == 0 || len(some) >= 7 {
		t.Fatalf("%d takes after the cut, want some of 7", len(some))
	}
	if err := Build(t.Context(), b, nil); err != nil {
		t.Fatal(err)
	}
	all, _ := takes(t, b)
	if len(all) != 7 {
		t.Errorf("%d takes in the end, want 7", len(all))
	}
	for i, k := range some {
		if all[i].ID != k.ID || all[i].SHA256 != k.SHA256 {
			t.Errorf("take %d was made anew", k.ID)
		}
	}
}

// The numbers that the notes speak of are those of the patches.
func TestNotesTellWhatChanged(t *testing.T) {
	b := open(t)
	if err := Build(t.Context(), b, nil); err != nil {
		t.Fatal(err)
	}
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
	} {
		if !changed[want] {
			t.Errorf("no take says %q; what changed is %v", want, changed)
		}
	}
}

// "The motor is cut off by its switch, and the glass is heard alone": in the gap
// before 3.4 s nearly nothing is left of the motor.
func TestTheGlassLandsAlone(t *testing.T) {
	b := open(t)
	if err := Build(t.Context(), b, nil); err != nil {
		t.Fatal(err)
	}
	all, _ := takes(t, b)
	i := slices.IndexFunc(all, func(k notebook.Take) bool { return strings.HasPrefix(k.Note, "With glass, and it lands.") })
	sound, _, err := b.Audition(all[i].ID)
	if err != nil {
		t.Fatal(err)
	}
	rms := func(from, to float64) float64 { // dBFS
		sum, span := 0.0, sound[0][int(from*rate):int(to*rate)]
		for _, x := range span {
			sum += x * x
		}
		return 10 * math.Log10(sum/float64(len(span)))
	}
	if motor, gap := rms(3.2, 3.38), rms(3.39, 3.399); gap > motor-20 {
		t.Errorf("the motor runs at %.1f dBFS and the gap has %.1f; want 20 dB less", motor, gap)
	}
	if gap, glass := rms(3.39, 3.399), rms(3.4, 3.42); glass < gap+10 {
		t.Errorf("the gap has %.1f dBFS and the landing %.1f; want 10 dB more", gap, glass)
	}
}

func BenchmarkBuild(b *testing.B) {
	for b.Loop() {
		if err := Build(b.Context(), open(b), nil); err != nil {
			b.Fatal(err)
		}
	}
}
