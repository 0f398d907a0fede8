package command

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"testing"
)

func fill(text string) func(io.Writer) error {
	return func(w io.Writer) error {
		_, err := io.WriteString(w, text)
		return err
	}
}

func only(t *testing.T, folder, name, text string) {
	t.Helper()
	files, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	if name == "" && len(files) == 0 {
		return
	}
	if len(files) != 1 || files[0].Name() != name {
		t.Fatalf("the folder holds %v, want only %q", files, name)
	}
	got, err := os.ReadFile(filepath.Join(folder, name))
	if err != nil || string(got) != text {
		t.Errorf("%s holds %q (%v), want %q", name, got, err, text)
	}
}

func TestAFileAppearsWholeOrNotAtAll(t *testing.T) {
	folder := t.TempDir()
	out := target{path: filepath.Join(folder, "out.wav")}
	if err := out.write(fill("sound")); err != nil {
		t.Fatal(err)
	}
	only(t, folder, "out.wav", "sound")

	full := errors.New("no space left")
	err := target{path: filepath.Join(folder, "two.wav")}.write(func(w io.Writer) error {
		fill("half of it")(w)
		return full
	})
	if !errors.Is(err, full) {
		t.Errorf("the error is %v, want the writer's", err)
	}
	only(t, folder, "out.wav", "sound")
}

func TestAFileIsReplacedOnlyByForce(t *testing.T) {
	folder := t.TempDir()
	out := target{path: filepath.Join(folder, "out.wav")}
	if err := errors.Join(out.check(), out.write(fill("first"))); err != nil {
		t.Fatal(err)
	}
	if out.check() == nil {
		t.Error("check lets an existing file be written")
	}
	if out.write(fill("second")) == nil {
		t.Error("a file that came up after check was replaced")
	}
	only(t, folder, "out.wav", "first")

	out.force = true
	failed := errors.New("interrupted")
	if err := out.write(func(io.Writer) error { return failed }); !errors.Is(err, failed) {
		t.Errorf("the error is %v, want the writer's", err)
	}
	only(t, folder, "out.wav", "first")
	if err := errors.Join(out.check(), out.write(fill("second"))); err != nil {
		t.Fatal(err)
	}
	only(t, folder, "out.wav", "second")
}

func TestWhatCannotBeWrittenIsToldBeforeTheWork(t *testing.T) {
	folder := t.TempDir()
	for _, path := range []string{"", filepath.Join(folder, "nowhere", "out.wav"), folder} {
		if (target{path: path}).check() == nil {
			t.Errorf("check lets %q be written", path)
		}
	}
}
