package notebook

import (
	"context"
	"io"
	"path/filepath"
	"strconv"
	"testing"
	"time"

	"lampblack/patch"
	"lampblack/patch/memory"
	"lampblack/patch/recording"
)

// noon is the time at which the tests happen.
var noon = time.Date(2031, 5, 17, 12, 0, 0, 0, time.UTC)

func testOptions() Options {
	return Options{Now: func() time.Time { return noon }, Program: "test"}
}

func openAt(t testing.TB, path string) *Book {
	t.Helper()
	b, err := Open(path, testOptions())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { b.Close() })
	return b
}

// openNew opens a new notebook in a folder of its own.
func openNew(t testing.TB) *Book {
	t.Helper()
	return openAt(t, filepath.Join(t.TempDir(), "notebook"+Extension))
}

// glasshouse adds a job and a cue.
func glasshouse(t testing.TB, b *Book) Cue {
	t.Helper()
	job := must(b.AddJob(Job{Name: "The Glasshouse"}))(t)
	return must(b.AddCue(Cue{Job: job.ID, Number: "1M4", Name: "Moths at the lamp", Timecode: "10:02:14:05"}))(t)
}

func must[T any](v T, err error) func(testing.TB) T {
	return func(t testing.TB) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

// dust is white noise straight to the output.
func dust() patch.Patch {
	return patch.Patch{
		Seed: 4817,
		Modules: []patch.Module{
			{Name: "dust", Kind: "noise"},
			{Name: "out", Kind: "output", At: patch.Point{X: 200}},
		},
		Cords: []patch.Cord{{From: patch.Socket{Module: "dust", Name: "out"}, To: patch.Socket{Module: "out", Name: "left"}}},
	}
}

// short is the shortest useful take of a patch.
func short(cue Cue, p patch.Patch) NewTake {
	return NewTake{Cue: cue.ID, Patch: p, Seconds: 0.02, Rate: 8000}
}

func keep(t testing.TB, b *Book, n NewTake) Take {
	t.Helper()
	return must(b.Keep(context.Background(), n, nil))(t)
}

// twoNotes is a memory of 0.1 s.
func twoNotes() memory.Memory {
	return memory.Memory{Length: 0.1, Speed: 1, Notes: []memory.Note{
		{At: 0, For: 0.02, Velocity: 1}, {At: 0.05, For: 0.01, Pitch: 1, Velocity: 0.5},
	}}
}

// wave is a short WAV file.
func wave(t testing.TB) []byte {
	t.Helper()
	var file buffer
	ramp := make([]float64, 400)
	for i := range ramp {
		ramp[i] = float64(i)/400 - 0.5
	}
	if err := recording.WriteWAV(&file, [][]float64{ramp}, 8000, recording.Bits24); err != nil {
		t.Fatal(err)
	}
	return file
}

// buffer is a file in memory that only grows.
type buffer []byte

func (b *buffer) Write(p []byte) (int, error) { *b = append(*b, p...); return len(p), nil }

var _ io.Writer = (*buffer)(nil)

// reed plays a recording.
func reed(sum string) patch.Patch {
	return patch.Patch{
		Modules: []patch.Module{
			{Name: "reed", Kind: "recording", Recording: &patch.Recording{Name: "reed.wav", SHA256: sum}},
			{Name: "out", Kind: "output", At: patch.Point{X: 200}},
		},
		Cords: []patch.Cord{{From: patch.Socket{Module: "reed", Name: "left"}, To: patch.Socket{Module: "out", Name: "left"}}},
	}
}

func itoa(n int) string { return strconv.Itoa(n) }
