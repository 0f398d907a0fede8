package notebook

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestDraftComesBack(t *testing.T) {
	path := filepath.Join(t.TempDir(), "notebook"+Extension)
	b := openAt(t, path)
	cue := glasshouse(t, b)
	parent := keep(t, b, short(cue, dust()))
	if _, ok, err := b.Draft(); ok || err != nil {
		t.Fatalf("a new notebook has a draft: %v, %v", ok, err)
	}
	rapid.Check(t, func(r *rapid.T) {
		d := Draft{Cue: cue.ID, From: parent.ID, Patch: dust(), Note: rapid.String().Draw(r, "note"), Tags: []string{"a", "b"}}
		d.Patch.Seed = rapid.Uint64Range(0, 1<<53).Draw(r, "seed")
		if rapid.Bool().Draw(r, "from nothing") {
			d.Cue, d.From, d.Memory = 0, 0, twoNotes()
		}
		if err := b.SaveDraft(d); err != nil {
			r.Fatal(err)
		}
		got, ok, err := b.Draft()
		d.Saved = noon
		if err != nil || !ok || !got.Patch.Equal(d.Patch) {
			r.Fatalf("%v, %v: %v", ok, err, got)
		}
		got.Patch, d.Patch = dust(), dust()
		if !reflect.DeepEqual(got, d) {
			r.Fatalf("got %v, want %v", got, d)
		}
	})
	if err := b.DropDraft(); err != nil {
		t.Fatal(err)
	}
	if _, ok, err := b.Draft(); ok || err != nil {
		t.Errorf("a dropped draft is there: %v, %v", ok, err)
	}
}

func TestDraftOutlivesItsCue(t *testing.T) {
	b := openNew(t)
	cue := glasshouse(t, b)
	if err := b.SaveDraft(Draft{Cue: cue.ID, Note: "the moth should seem heavy"}); err != nil {
		t.Fatal(err)
	}
	if err := b.RemoveCue(cue.ID); err != nil {
		t.Fatal(err)
	}
	if d, ok, err := b.Draft(); err != nil || !ok || d.Cue != 0 || d.Note == "" {
		t.Errorf("%v, %v, %v", d, ok, err)
	}
}

func TestOneBookHasTheDraft(t *testing.T) {
	path := filepath.Join(t.TempDir(), "notebook"+Extension)
	window := openAt(t, path)
	cue := glasshouse(t, window)
	if err := window.SaveDraft(Draft{Cue: cue.ID, Patch: dust(), Note: "mine"}); err != nil {
		t.Fatal(err)
	}
	second := openAt(t, path)
	for name, err := range map[string]error{
		"lock": second.LockDraft(),
		"save": second.SaveDraft(Draft{Note: "theirs"}),
		"drop": second.DropDraft(),
		"read": func() error { _, _, err := second.Draft(); return err }(),
	} {
		if !errors.Is(err, ErrOpenElsewhere) || !strings.Contains(err.Error(), "process "+itoa(os.Getpid())) {
			t.Errorf("%s in a second window: %v", name, err)
		}
	}
	if kept := keep(t, second, short(cue, dust())); kept.Number != 1 {
		t.Errorf("the second window can't keep: take %d", kept.Number)
	}
	window.Close()
	if d, ok, err := second.Draft(); err != nil || !ok || d.Note != "mine" {
		t.Errorf("after the first has closed: %v, %v, %v", d, ok, err)
	}
}

const holderEnv = "LAMPBLACK_TEST_HOLDER"

// A program that is killed leaves its draft, and no lock.
func TestKilledProgramLeavesDraftAndNoLock(t *testing.T) {
	b := openNew(t)
	child := exec.Command(must(os.Executable())(t), "-test.run=^TestHolderChild$")
	child.Env = append(os.Environ(), holderEnv+"="+b.Path())
	out := must(child.StdoutPipe())(t)
	if err := child.Start(); err != nil {
		t.Fatal(err)
	}
	line := make([]byte, len("saved\n"))
	if _, err := out.Read(line); err != nil || string(line) != "saved\n" {
		t.Fatalf("the child says %q, %v", line, err)
	}
	if err := b.LockDraft(); !errors.Is(err, ErrOpenElsewhere) {
		t.Errorf("while the child has the draft: %v", err)
	}
	child.Process.Kill() // SIGKILL
	child.Wait()
	if d, ok, err := b.Draft(); err != nil || !ok || d.Note != "written just before the end" {
		t.Errorf("%v, %v, %v", d, ok, err)
	}
}

func TestHolderChild(t *testing.T) {
	path := os.Getenv(holderEnv)
	if path == "" {
		t.Skip("it is the child of TestKilledProgramLeavesDraftAndNoLock")
	}
	b := openAt(t, path)
	if err := b.SaveDraft(Draft{Note: "written just before the end"}); err != nil {
		t.Fatal(err)
	}
	os.Stdout.WriteString("saved\n")
	select {} // until it is killed
}
