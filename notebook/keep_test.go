package notebook

import (
	"context"
	"database/sql"
	"errors"
	"math"
	"path/filepath"
	"reflect"
	"strings"
	"sync"
	"testing"

	"lampblack/patch"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// What is kept comes back: the same values, the same bytes, the same sound.
func TestWhatIsKeptComesBack(t *testing.T) {
	b := openNew(t)
	cue := glasshouse(t, b)
	var last TakeID
	number := 0
	rapid.Check(t, func(r *rapid.T) {
		p := dust()
		p.Name = rapid.StringMatching(`([a-zäß<&"é.-]( [a-z]+)?){0,5}`).Draw(r, "patch name")
		p.Seed = rapid.Uint64Range(0, 1<<53).Draw(r, "seed")
		n := short(cue, p)
		n.Note = rapid.String().Draw(r, "note")
		n.Tags = rapid.SliceOf(rapid.String()).Draw(r, "tags")
		n.Seconds = rapid.Float64Range(0.001, 0.02).Draw(r, "seconds")
		n.Rate = rapid.SampledFrom([]int{8000, 44100, 48000, 96000}).Draw(r, "rate")
		n.From = last
		if rapid.Bool().Draw(r, "with a memory") {
			n.Memory = twoNotes()
		}
		kept, err := b.Keep(context.Background(), n, nil)
		if err != nil {
			r.Fatal(err)
		}
		if number++; kept.Number != number || kept.From != last || !kept.Kept.Equal(noon) {
			r.Fatalf("number %d from %d at %s; want %d, %d, %s", kept.Number, kept.From, kept.Kept, number, last, noon)
		}
		last = kept.ID
		got, err := b.Take(kept.ID)
		if err != nil {
			r.Fatal(err)
		}
		if !reflect.DeepEqual(got, kept) {
			r.Fatalf("not what was kept:\n%s", cmp.Diff(kept, got))
		}
		if got.Note != n.Note || !got.Patch.Equal(n.Patch) || !reflect.DeepEqual(got.Memory, n.Memory) {
			r.Fatalf("not what was given:\n%s", cmp.Diff(n.Patch, got.Patch)+cmp.Diff(n.Note, got.Note)+cmp.Diff(n.Memory, got.Memory))
		}
		if !reflect.DeepEqual(got.Tags, tidy(n.Tags)) {
			r.Fatalf("tags %q, want %q", got.Tags, tidy(n.Tags))
		}
		proof, err := b.Prove(context.Background(), kept.ID, nil)
		if err != nil || !proof.OK() {
			r.Fatalf("%v: %v", proof, err)
		}
		samples, rate, err := b.Audition(kept.ID)
		if err != nil || rate != n.Rate || len(samples) != kept.Channels || len(samples[0]) != int(math.Round(n.Seconds*float64(n.Rate))) {
			r.Fatalf("audition of %d channels at %d Hz: %v", len(samples), rate, err)
		}
	})
}

func TestTakesAreNumberedPerCue(t *testing.T) {
	b := openNew(t)
	moths := glasshouse(t, b)
	roof := must(b.AddCue(Cue{Job: moths.Job, Number: "1M5", Name: "Roof vent opens, 3.4 s"}))(t)
	for i, c := range []struct {
		cue  Cue
		want int
	}{{moths, 1}, {roof, 1}, {moths, 2}, {moths, 3}, {roof, 2}} {
		if got := keep(t, b, short(c.cue, dust())).Number; got != c.want {
			t.Errorf("step %d: take %d of %s, want %d", i, got, c.cue.Number, c.want)
		}
	}
	if h, err := b.FindTake(roof.ID, 2); err != nil || h.Cue != roof.ID || h.Number != 2 {
		t.Errorf("take 2 of %s: %v, %v", roof.Number, h, err)
	}
	if _, err := b.FindTake(roof.ID, 3); !errors.Is(err, ErrMissing) {
		t.Errorf("a take that is not there: %v", err)
	}
}

func TestLengthZeroIsThePassAndItsTail(t *testing.T) {
	b := openNew(t)
	n := short(glasshouse(t, b), dust())
	n.Seconds, n.Memory = 0, twoNotes()
	n.Memory.Repeat = true // a fixed length would repeat, the pass does not
	kept := keep(t, b, n)
	if kept.Seconds < n.Memory.Length || kept.Asked != 0 {
		t.Errorf("asked for %g s, lasts %g s; one pass is %g s", kept.Asked, kept.Seconds, n.Memory.Length)
	}
	if p, err := b.Prove(context.Background(), kept.ID, nil); err != nil || !p.OK() {
		t.Errorf("%v: %v", p, err)
	}
}

func TestKeepTellsWhatIsWrongAndKeepsNothing(t *testing.T) {
	b := openNew(t)
	cue := glasshouse(t, b)
	for _, c := range []struct {
		name   string
		change func(n *NewTake)
		says   string
	}{
		{"a cue that is not there", func(n *NewTake) { n.Cue = 99 }, "cue 99"},
		{"a parent that is not there", func(n *NewTake) { n.From = 99 }, "99"},
		{"a length below 0", func(n *NewTake) { n.Seconds = -1 }, "-1 s"},
		{"a length of no number", func(n *NewTake) { n.Seconds = math.NaN() }, "NaN s"},
		{"a length of more than it may be", func(n *NewTake) { n.Seconds = 1e9 }, "1e+09 s"},
		{"a rate that no engine has", func(n *NewTake) { n.Rate = 12 }, "12"},
		{"a kind that nobody knows", func(n *NewTake) { n.Patch.Modules[0].Kind = "moth" }, "moth"},
		{"a cord to nowhere", func(n *NewTake) { n.Patch.Cords[0].To.Name = "moon" }, "moon"},
		{"a recording without a hash", func(n *NewTake) { n.Patch = reed("") }, "reed.wav"},
		{"a recording that is nowhere", func(n *NewTake) { n.Patch = reed(strings.Repeat("a", 64)) }, "reed.wav"},
		{"a recording that is another file", func(n *NewTake) {
			n.Patch = reed(strings.Repeat("a", 64))
			n.Recordings = map[string][]byte{strings.Repeat("a", 64): wave(t)}
		}, hashOf(wave(t))},
		{"a recording that is no audio", func(n *NewTake) {
			n.Patch = reed(hashOf([]byte("moth")))
			n.Recordings = map[string][]byte{hashOf([]byte("moth")): []byte("moth")}
		}, "reed.wav"},
		{"a memory that runs backwards", func(n *NewTake) { n.Memory = twoNotes(); n.Memory.Notes[1].At = -1 }, "note 2"},
	} {
		t.Run(c.name, func(t *testing.T) {
			n := short(cue, dust())
			c.change(&n)
			if _, err := b.Keep(context.Background(), n, nil); err == nil || !strings.Contains(err.Error(), c.says) || !strings.Contains(err.Error(), "not kept") {
				t.Errorf("want %q, got %v", c.says, err)
			}
			if takes := must(b.AllTakes())(t); len(takes) != 0 {
				t.Fatal("something was kept")
			}
		})
	}
}

func TestCancelledKeepingKeepsNothing(t *testing.T) {
	b := openNew(t)
	n := short(glasshouse(t, b), dust())
	n.Seconds = 20
	ctx, cancel := context.WithCancel(context.Background())
	_, err := b.Keep(ctx, n, func(done float64) {
		if done > 0.1 {
			cancel()
		}
	})
	if !errors.Is(err, context.Canceled) {
		t.Errorf("want cancelled, got %v", err)
	}
	if takes := must(b.AllTakes())(t); len(takes) != 0 {
		t.Error("something was kept")
	}
}

// A recording travels with the take, and is stored once however often it is used.
func TestRecordingsAreKeptWithTheTake(t *testing.T) {
	b := openNew(t)
	cue := glasshouse(t, b)
	file := wave(t)
	n := short(cue, reed(hashOf(file)))
	n.Recordings = map[string][]byte{hashOf(file): file}
	first := keep(t, b, n)
	n.Recordings = nil // now the notebook has it
	second := keep(t, b, n)
	if first.SHA256 != second.SHA256 || first.Peak == 0 {
		t.Errorf("two sounds: %s (peak %g) and %s", first.SHA256, first.Peak, second.SHA256)
	}
	sum := must(b.AddRecording("again.wav", file))(t)
	if back := must(b.Recording(sum))(t); string(back) != string(file) {
		t.Error("the file came back as another one")
	}
	h := must(b.Check(context.Background(), nil))(t)
	if h.Recordings != 1 || len(h.Faults) > 0 {
		t.Errorf("%d recordings, faults %q", h.Recordings, h.Faults)
	}
	clips := must(b.Clips(first.Patch, 8000, nil))(t)
	if len(clips) != 1 || len(clips["reed"].Channels[0]) != 400 {
		t.Errorf("clips: %v", clips)
	}
	if _, err := b.AddRecording("x", []byte("no audio")); err == nil {
		t.Error("a text was taken in as a recording")
	}
}

func TestAFullDiskLosesNothing(t *testing.T) {
	b := openNew(t)
	cue := glasshouse(t, b)
	fullDisk(t, b, cue, func() { limitPages(t, b, 8) }, func() { limitPages(t, b, 1<<30) })
}

func limitPages(t *testing.T, b *Book, more int) {
	t.Helper()
	var pages int
	if err := b.write.QueryRow("PRAGMA page_count").Scan(&pages); err != nil {
		t.Fatal(err)
	}
	if _, err := b.write.Exec("PRAGMA max_page_count = " + itoa(min(pages+more, 1<<30))); err != nil {
		t.Fatal(err)
	}
}

// fullDisk keeps takes until there is no room, and goes on when there is.
func fullDisk(t *testing.T, b *Book, cue Cue, fill, free func()) {
	t.Helper()
	first := keep(t, b, short(cue, dust()))
	if err := b.SaveDraft(Draft{Note: "before"}); err != nil {
		t.Fatal(err)
	}
	fill()
	long := short(cue, dust())
	long.Seconds = 30 // white noise packs badly: about 700 kB
	_, err := b.Keep(context.Background(), long, nil)
	if !errors.Is(err, ErrFull) || !strings.Contains(err.Error(), "not kept") {
		t.Fatalf("want a full disk, got %v", err)
	}
	draft := Draft{Note: strings.Repeat("the moth is heavy ", 50_000), Patch: dust(), Tags: []string{"wings"}}
	if err := b.SaveDraft(draft); !errors.Is(err, ErrFull) {
		t.Fatalf("saving the draft: want a full disk, got %v", err)
	}
	if d, ok, err := b.Draft(); err != nil || !ok || d.Note != draft.Note || !d.Patch.Equal(draft.Patch) {
		t.Errorf("the draft is not in memory: %v, %v", ok, err)
	}
	if takes := must(b.AllTakes())(t); len(takes) != 1 || takes[0].ID != first.ID {
		t.Errorf("takes after the full disk: %v", takes)
	}
	free()
	if second := keep(t, b, long); second.Number != 2 {
		t.Errorf("take %d after the disk had room again, want 2", second.Number)
	}
	if err := b.SaveDraft(draft); err != nil {
		t.Error(err)
	}
	if h := must(b.Check(context.Background(), nil))(t); len(h.Faults) > 0 {
		t.Errorf("faults: %q", h.Faults)
	}
}

// Windows and commands write to one file at once: nothing is lost, no number is
// given twice.
func TestManyWritersAtOnce(t *testing.T) {
	path := filepath.Join(t.TempDir(), "notebook"+Extension)
	books := []*Book{openAt(t, path), openAt(t, path)}
	cue := glasshouse(t, books[0])
	const each = 5
	var wait sync.WaitGroup
	for w := range 4 {
		wait.Add(1)
		go func() {
			defer wait.Done()
			b := books[w%2]
			for range each {
				kept, err := b.Keep(context.Background(), short(cue, dust()), nil)
				if err != nil {
					t.Error(err)
					return
				}
				if _, err := b.Take(kept.ID); err != nil {
					t.Error(err)
				}
				if w%2 == 0 {
					if err := b.SaveDraft(Draft{Cue: cue.ID, Patch: dust()}); err != nil {
						t.Error(err)
					}
				}
				if _, err := b.Search("moths"); err != nil {
					t.Error(err)
				}
			}
		}()
	}
	wait.Wait()
	for _, b := range books {
		takes := must(b.Takes(cue.ID))(t)
		if len(takes) != 4*each {
			t.Fatalf("%d takes, want %d", len(takes), 4*each)
		}
		for i, h := range takes {
			if h.Number != i+1 {
				t.Errorf("take %d stands at place %d", h.Number, i+1)
			}
		}
	}
}

func TestChangesOfAnotherBookAreNoticed(t *testing.T) {
	path := filepath.Join(t.TempDir(), "notebook"+Extension)
	mine, other := openAt(t, path), openAt(t, path)
	cue := glasshouse(t, mine)
	before := must(mine.ChangedElsewhere())(t)
	keep(t, mine, short(cue, dust()))
	if now := must(mine.ChangedElsewhere())(t); now != before {
		t.Error("an own change counts as somebody else's")
	}
	keep(t, other, short(cue, dust()))
	if now := must(mine.ChangedElsewhere())(t); now == before {
		t.Error("a change of another Book was not noticed")
	}
}

func TestNoStatementChangesATake(t *testing.T) {
	b := openNew(t)
	cue := glasshouse(t, b)
	file := wave(t)
	n := short(cue, reed(hashOf(file)))
	n.Recordings, n.Note = map[string][]byte{hashOf(file): file}, "wings at 23 Hz"
	kept := keep(t, b, n)
	keep(t, b, short(cue, dust()))
	other := must(b.AddRecording("b.wav", append(wave(t), 0)))(t)
	want := everything(b)
	for _, statement := range []string{
		"UPDATE take SET note = 'x'",
		"UPDATE take SET number = 7 WHERE id = 1",
		"DELETE FROM take",
		"INSERT OR REPLACE INTO take SELECT * FROM take WHERE id = 1",
		"REPLACE INTO take (id, cue, number, kept, note, tags, patch, memory, asked, seconds, rate, channels, peak, sha256, kinds, program, digest) SELECT 99, cue, number, kept, 'x', tags, patch, memory, asked, seconds, rate, channels, peak, sha256, kinds, program, digest FROM take WHERE id = 1",
		"UPDATE audition SET flac = x'00'",
		"DELETE FROM audition WHERE take = 1",
		"INSERT OR REPLACE INTO audition SELECT take, sha256, x'00' FROM audition",
		"UPDATE recording SET name = 'x'",
		"DELETE FROM recording WHERE sha256 IN (SELECT recording FROM take_recording)",
		"INSERT OR REPLACE INTO recording SELECT sha256, 'x', x'00' FROM recording",
		"UPDATE take_recording SET name = 'x'",
		"DELETE FROM take_recording",
		"INSERT OR REPLACE INTO take_recording SELECT take, recording, 'x' FROM take_recording",
		"INSERT INTO take_recording VALUES (1, '" + other + "', 'x')",
		"DELETE FROM cue",
		"DELETE FROM job",
	} {
		// A bare connection, as any SQLite tool has it: only the file itself resists.
		for _, settings := range [][]string{{"_pragma=foreign_keys(1)"}, {"_pragma=foreign_keys(1)", "_pragma=recursive_triggers(1)"}} {
			db := must(sql.Open("sqlite", source(b.Path(), settings)))(t)
			if _, err := db.Exec(statement); err == nil {
				t.Errorf("%s: was carried out", statement)
			}
			db.Close()
		}
	}
	if got := everything(b); !reflect.DeepEqual(got, want) {
		t.Errorf("takes have changed:\n%s", cmp.Diff(want, got))
	}
	// The star is no part of the page.
	for _, on := range []bool{true, true, false} {
		if err := b.Star(kept.ID, on); err != nil {
			t.Fatal(err)
		}
		if got := must(b.Take(kept.ID))(t); got.Star != on {
			t.Errorf("star %v after setting it %v", got.Star, on)
		}
	}
	if err := b.Star(99, true); !errors.Is(err, ErrMissing) {
		t.Errorf("a star for no take: %v", err)
	}
}

func BenchmarkKeep(b *testing.B) {
	book := openNew(b)
	n := short(glasshouse(b, book), dust())
	n.Seconds, n.Rate = 8.2, 48000
	for b.Loop() {
		keep(b, book, n)
	}
	b.ReportMetric(n.Seconds/(b.Elapsed().Seconds()/float64(b.N)), "x-realtime")
}

func BenchmarkSaveDraft(b *testing.B) {
	book := openNew(b)
	glasshouse(b, book)
	d := Draft{Patch: manyModules(50), Memory: twoNotes(), Note: strings.Repeat("wings ", 100)}
	for b.Loop() {
		if err := book.SaveDraft(d); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkThousandTakes reads, finds and opens in a notebook of 1,000 takes.
func BenchmarkThousandTakes(b *testing.B) {
	book := openNew(b)
	cue := glasshouse(b, book)
	n := short(cue, dust())
	for i := range 1000 {
		n.Note = "wings at " + itoa(i) + " Hz, heavy as a moth"
		keep(b, book, n)
	}
	b.Run("contents", func(b *testing.B) {
		for b.Loop() {
			must(book.Takes(cue.ID))(b)
		}
	})
	b.Run("search", func(b *testing.B) {
		for b.Loop() {
			must(book.Search("wings 23"))(b)
		}
	})
	b.Run("open", func(b *testing.B) {
		for b.Loop() {
			must(Open(book.Path(), testOptions()))(b).Close()
		}
	})
}

// manyModules is a patch of n noises.
func manyModules(n int) patch.Patch {
	p := dust()
	for i := range n {
		p.Modules = append(p.Modules, patch.Module{Name: "dust " + itoa(i), Kind: "noise"})
	}
	return p
}
