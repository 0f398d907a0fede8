package notebook

import (
	"bytes"
	"context"
	"database/sql"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
)

func TestOpenMakesFoldersAndFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "deep", "er", "notebook"+Extension)
	openAt(t, path).Close()
	info, err := os.Stat(path)
	if err != nil || info.Size() == 0 {
		t.Fatalf("no file was made: %v", err)
	}
	if folder, _ := os.Stat(filepath.Dir(path)); folder.Mode().Perm() != 0o700 {
		t.Errorf("the folder may be entered by others: %v (XDG Base Directory Specification: 0700)", folder.Mode())
	}
}

func TestOpenTakesAnyName(t *testing.T) {
	for _, name := range []string{"a b", "what?", "50%", "one#two", `it's "quoted"`, "Gläser", "file:x?mode=memory", "%41&_pragma=x"} {
		path := filepath.Join(t.TempDir(), name)
		b := openAt(t, path)
		glasshouse(t, b)
		b.Close()
		if info, err := os.Stat(path); err != nil || info.Size() == 0 {
			t.Errorf("%q: the file is not where it was asked for: %v", name, err)
		}
		if jobs, err := openAt(t, path).Jobs(); err != nil || len(jobs) != 1 {
			t.Errorf("%q: opened again: %d jobs, %v", name, len(jobs), err)
		}
	}
}

func TestSettingsOfTheConnection(t *testing.T) {
	b := openNew(t)
	for _, c := range []struct {
		pragma string
		want   int
		why    string
	}{
		{"synchronous", 2, "2 is FULL: a commit reaches the disk (sqlite.org/pragma.html#pragma_synchronous)"},
		{"foreign_keys", 1, "off unless asked for (sqlite.org/foreignkeys.html, section 2)"},
		{"trusted_schema", 0, "sqlite.org/security.html"},
		{"application_id", applicationID, "sqlite.org/fileformat2.html, section 1.3.17"},
		{"user_version", formatVersion, "sqlite.org/pragma.html#pragma_user_version"},
		{"busy_timeout", 10000, "writers wait for each other"},
	} {
		var got int
		if err := b.write.QueryRow("PRAGMA " + c.pragma).Scan(&got); err != nil || got != c.want {
			t.Errorf("%s is %d, want %d: %s (%v)", c.pragma, got, c.want, c.why, err)
		}
	}
	var mode string
	if err := b.read.QueryRow("PRAGMA journal_mode").Scan(&mode); err != nil || mode != "wal" {
		t.Errorf("journal mode %q, %v", mode, err)
	}
	if _, err := b.read.Exec("DELETE FROM job"); err == nil {
		t.Error("a reading connection wrote")
	}
}

// sqliteFile makes an SQLite file that is not a notebook.
func sqliteFile(t *testing.T, path string, statements ...string) {
	t.Helper()
	db := must(sql.Open("sqlite", source(path, nil)))(t)
	defer db.Close()
	for _, s := range statements {
		if _, err := db.Exec(s); err != nil {
			t.Fatal(err)
		}
	}
}

func TestBadFilesAreRefusedAndNotTouched(t *testing.T) {
	for _, c := range []struct {
		name string
		make func(t *testing.T, path string)
		want error
		says string
	}{
		{"a text file", func(t *testing.T, path string) { write(t, path, []byte("Dear diary, today the moths came.")) }, ErrNotNotebook, "not an SQLite file"},
		{"one byte", func(t *testing.T, path string) { write(t, path, []byte("S")) }, ErrNotNotebook, "not an SQLite file"},
		{"a long binary file", func(t *testing.T, path string) { write(t, path, bytes.Repeat([]byte{0, 255}, 50_000)) }, ErrNotNotebook, "not an SQLite file"},
		{"an SQLite file of another program", func(t *testing.T, path string) {
			sqliteFile(t, path, "CREATE TABLE take (id INTEGER)", "PRAGMA user_version = 1")
		}, ErrNotNotebook, "another program"},
		{"an SQLite file with another application's number", func(t *testing.T, path string) {
			sqliteFile(t, path, "PRAGMA application_id = 1", "CREATE TABLE x (y)")
		}, ErrNotNotebook, "another program"},
		{"a newer notebook", func(t *testing.T, path string) {
			openAt(t, path).Close()
			sqliteFile(t, path, "PRAGMA user_version = 7")
		}, ErrNewer, "version 7"},
		{"a notebook cut off in its header", func(t *testing.T, path string) {
			openAt(t, path).Close()
			os.Truncate(path, 60)
		}, ErrNotNotebook, "not an SQLite file"},
		{"a folder", func(t *testing.T, path string) { os.Mkdir(path, 0o700) }, ErrNotNotebook, "a folder"},
	} {
		t.Run(c.name, func(t *testing.T) {
			for _, readOnly := range []bool{false, true} {
				path := filepath.Join(t.TempDir(), "notebook"+Extension)
				c.make(t, path)
				before, _ := os.ReadFile(path)
				b, err := Open(path, Options{ReadOnly: readOnly})
				if err == nil {
					b.Close()
					t.Fatal("it was opened")
				}
				if !errors.Is(err, c.want) || !strings.Contains(err.Error(), c.says) || !strings.Contains(err.Error(), path) {
					t.Errorf("want %v with %q and the path, got: %v", c.want, c.says, err)
				}
				if after, _ := os.ReadFile(path); !bytes.Equal(before, after) {
					t.Error("the file was changed")
				}
			}
		})
	}
}

// Whatever page of the file is damaged: it is told when the file is opened,
// read or checked, or else every take is still what it was.
func TestDamageIsToldOrDoesNoHarm(t *testing.T) {
	path := filepath.Join(t.TempDir(), "notebook"+Extension)
	b := openAt(t, path)
	cue := glasshouse(t, b)
	for range 3 {
		n := short(cue, dust())
		n.Note, n.Memory = "wings at 23 Hz", twoNotes()
		keep(t, b, n)
	}
	want := everything(b)
	b.Close()
	whole := must(os.ReadFile(path))(t)
	told, harmless := 0, 0
	for page := 0; page < len(whole); page += 4096 {
		for _, part := range []int{0, 100, 2000, 3584, 4000} {
			file := bytes.Clone(whole)
			for i := page + part; i < page+part+96; i++ {
				file[i] ^= 0x15
			}
			write(t, path, file)
			if tells(path) {
				told++
				continue
			}
			b := openAt(t, path)
			if got := everything(b); !reflect.DeepEqual(got, want) {
				t.Errorf("bytes %d to %d: takes changed and nothing was told\n got %v\nwant %v", page+part, page+part+95, got, want)
			}
			b.Close()
			harmless++
		}
	}
	t.Logf("damage told %d times; %d times it lay where nothing of a take is", told, harmless)
	if told == 0 {
		t.Error("no damage was told")
	}
}

// tells reports whether opening or checking the file tells of damage.
func tells(path string) bool {
	b, err := Open(path, testOptions())
	if err != nil {
		return true
	}
	defer b.Close()
	h, err := b.Check(context.Background(), nil)
	return err != nil || len(h.Faults) > 0
}

// everything returns all takes with their auditions, or errors in their place.
func everything(b *Book) (all []any) {
	headings, err := b.AllTakes()
	if err != nil {
		return []any{err.Error()}
	}
	for _, h := range headings {
		take, err := b.Take(h.ID)
		flac, noAudition := b.AuditionFLAC(h.ID)
		all = append(all, take, err, flac, noAudition)
	}
	return all
}

func TestReadOnlyOfWhatIsNotThereMakesNothing(t *testing.T) {
	path := filepath.Join(t.TempDir(), "none", "notebook"+Extension)
	if _, err := Open(path, Options{ReadOnly: true}); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("want not exist, got %v", err)
	}
	if _, err := os.Stat(filepath.Dir(path)); err == nil {
		t.Error("a folder was made")
	}
}

func TestReadOnlyReadsWhileAWindowWrites(t *testing.T) {
	window := openNew(t)
	cue := glasshouse(t, window)
	reader := must(Open(window.Path(), Options{ReadOnly: true}))(t)
	defer reader.Close()
	if ro, why := reader.ReadOnly(); !ro || why == "" {
		t.Errorf("read only: %v, %q", ro, why)
	}
	kept := keep(t, window, short(cue, dust()))
	got, err := reader.Take(kept.ID)
	if err != nil || got.SHA256 != kept.SHA256 {
		t.Fatalf("the reader does not see the new take: %v", err)
	}
	if _, err := reader.Keep(context.Background(), short(cue, dust()), nil); !errors.Is(err, ErrReadOnly) {
		t.Errorf("keeping in a reader: %v", err)
	}
	for name, err := range map[string]error{
		"star":  reader.Star(kept.ID, true),
		"draft": reader.SaveDraft(Draft{}),
		"edit":  reader.EditCue(cue),
	} {
		if !errors.Is(err, ErrReadOnly) {
			t.Errorf("%s in a reader: %v", name, err)
		}
	}
}

func write(t testing.TB, path string, data []byte) {
	t.Helper()
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
}

func TestDefaultPath(t *testing.T) {
	want := filepath.Join("lampblack", "notebook.lampblack")
	if got := DefaultPath(); !strings.HasSuffix(got, want) || !filepath.IsAbs(got) {
		t.Errorf("the default is %s; it must be absolute and end in %s", got, want)
	}
}

// A command looks into a notebook that nobody has open, and leaves nothing.
func TestReadOnlyLeavesNothing(t *testing.T) {
	b := openNew(t)
	keep(t, b, short(glasshouse(t, b), dust()))
	b.Close()
	reader := must(Open(b.Path(), Options{ReadOnly: true}))(t)
	if takes := must(reader.AllTakes())(t); len(takes) != 1 {
		t.Errorf("%d takes", len(takes))
	}
	if err := reader.Close(); err != nil {
		t.Error(err)
	}
	for _, f := range must(os.ReadDir(filepath.Dir(b.Path())))(t) {
		if f.Name() != filepath.Base(b.Path()) {
			t.Errorf("%s was left", f.Name())
		}
	}
}
