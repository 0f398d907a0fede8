package notebook

import (
	"context"
	"database/sql"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

var shipped = flag.Bool("shipped", false, "write testdata/vN.lampblack for the version of this program, once, when it is shipped")

// oldest is what every fixture holds: two takes, one with a recording.
func oldest(t *testing.T, path string) {
	b := openAt(t, path)
	cue := glasshouse(t, b)
	first := short(cue, dust())
	first.Note, first.Tags, first.Memory = "Too dry; narrow the band.", []string{"night", "glass"}, twoNotes()
	file := wave(t)
	second := short(cue, reed(hashOf(file)))
	second.From, second.Recordings = keep(t, b, first).ID, map[string][]byte{hashOf(file): file}
	keep(t, b, second)
	if err := b.SaveDraft(Draft{Cue: cue.ID, Patch: dust(), Note: "not kept yet"}); err != nil {
		t.Fatal(err)
	}
	// One file, as small as it goes.
	for _, s := range []string{"VACUUM", "PRAGMA wal_checkpoint(TRUNCATE)"} {
		if _, err := b.write.Exec(s); err != nil {
			t.Fatal(err)
		}
	}
	if err := b.Close(); err != nil {
		t.Fatal(err)
	}
}

// A notebook of every version ever shipped opens, and its takes are what they were.
func TestEveryShippedVersionOpens(t *testing.T) {
	if *shipped {
		path := filepath.Join("testdata", fmt.Sprintf("v%d.lampblack", formatVersion))
		if _, err := os.Stat(path); err == nil {
			t.Fatalf("%s is there; what was shipped is never written again", path)
		}
		oldest(t, path)
		os.Remove(path + "-draft")
	}
	for version := 1; version <= formatVersion; version++ {
		t.Run(fmt.Sprint("version ", version), func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "notebook"+Extension)
			write(t, path, must(os.ReadFile(fmt.Sprintf("testdata/v%d.lampblack", version)))(t))
			b := openAt(t, path)
			if h := must(b.Check(context.Background(), nil))(t); h.Takes != 2 || h.Recordings != 1 || len(h.Faults) > 0 {
				t.Errorf("%+v", h)
			}
			first, second := must(b.Take(1))(t), must(b.Take(2))(t)
			if first.Note != "Too dry; narrow the band." || len(first.Tags) != 2 || len(first.Memory.Notes) != 2 || !first.Kept.Equal(noon) {
				t.Errorf("first: %+v", first)
			}
			if second.From != first.ID || len(second.Recordings) != 1 || second.Recordings[0].Name != "reed.wav" {
				t.Errorf("second: %+v", second)
			}
			if hits := must(b.Search("narrow"))(t); len(hits) != 1 {
				t.Errorf("%d hits", len(hits))
			}
			if d, ok, err := b.Draft(); err != nil || !ok || d.Note != "not kept yet" {
				t.Errorf("draft %v, %v, %v", d, ok, err)
			}
			for _, id := range []TakeID{1, 2} {
				// Sounds may change with the version of a kind, and a proof then says so.
				if p, err := b.Prove(context.Background(), id, nil); err != nil || !p.OK() && len(p.Changed) == 0 {
					t.Errorf("%v, %v", p, err)
				}
			}
		})
	}
}

// The steps to later versions go all or not at all.
func TestUpgradeIsAllOrNothing(t *testing.T) {
	path := filepath.Join(t.TempDir(), "notebook"+Extension)
	oldest(t, path)
	db := must(sql.Open("sqlite", source(path, writerSettings)))(t)
	defer db.Close()
	db.SetMaxOpenConns(1)
	add := "ALTER TABLE take ADD COLUMN mood TEXT NOT NULL DEFAULT 'calm'"
	err := upgrade(db, 1, []string{version1, add, "CREATE TABLE sheet (id INTEGER); SELECT nothing FROM nowhere"})
	if err == nil || !strings.Contains(err.Error(), "version 3") {
		t.Errorf("a bad step: %v", err)
	}
	if v := must(formatOf(db))(t); v != 1 {
		t.Errorf("after a bad step the file is of version %d", v)
	}
	if db.QueryRow("SELECT mood FROM take").Scan(new(string)) == nil {
		t.Error("half of the upgrade stayed")
	}
	if err := upgrade(db, 1, []string{version1, add}); err != nil {
		t.Fatal(err)
	}
	var mood, note string
	if err := db.QueryRow("SELECT mood, note FROM take WHERE id = 1").Scan(&mood, &note); err != nil || mood != "calm" || note == "" {
		t.Errorf("%q, %q, %v", mood, note, err)
	}
	var version int
	if err := db.QueryRow("PRAGMA user_version").Scan(&version); err != nil || version != 2 {
		t.Errorf("version %d, %v", version, err)
	}
}

// A crash while the file is being made leaves a notebook or an empty file.
func TestAHalfMadeFileIsMadeAgain(t *testing.T) {
	path := filepath.Join(t.TempDir(), "notebook"+Extension)
	write(t, path, nil)
	b := openAt(t, path)
	if cue := glasshouse(t, b); cue.ID != 1 {
		t.Errorf("cue %d", cue.ID)
	}
}
