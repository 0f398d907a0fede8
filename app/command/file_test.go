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

func TestALinkStaysAndItsFileIsReplaced(t *testing.T) {
	folder, other := t.TempDir(), t.TempDir()
	real := filepath.Join(other, "real.wav")
	link := target{path: filepath.Join(folder, "link.wav"), force: true}
	if err := errors.Join(os.WriteFile(real, []byte("old"), 0o600), os.Symlink(real, link.path)); err != nil {
		t.Skip(err) // a system without links
	}
	if err := errors.Join(link.check(), link.write(fill("new"))); err != nil {
		t.Fatal(err)
	}
	only(t, other, "real.wav", "new")
	if to, err := os.Readlink(link.path); err != nil || to != real {
		t.Errorf("the link leads to %q, %v", to, err)
	}
}

func TestADeviceIsWrittenToAndNotReplaced(t *testing.T) {
	before, err := os.Stat("/dev/full")
	if err != nil {
		t.Skip("this system has no /dev/full")
	}
	full := target{path: "/dev/full", force: true}
	if err := full.check(); err != nil {
		t.Error(err)
	}
	if full.write(fill("sound")) == nil {
		t.Error("a full disk takes the file")
	}
	if after, err := os.Stat("/dev/full"); err != nil || after.Mode() != before.Mode() {
		t.Errorf("/dev/full has become %v, %v", after, err)
	}
}

func TestWhatCannotBeWrittenIsToldBeforeTheWork(t *testing.T) {
	folder := t.TempDir()
	for _, path := range []string{"", filepath.Join(folder, "nowhere", "out.wav"), folder} {
		if (target{path: path}).check() == nil {
			t.Errorf("check lets %q be written", path)
		}
	}
}
