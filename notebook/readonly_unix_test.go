//go:build unix

package notebook

import (
	"context"
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// Root may write anywhere, so that a child without its rights does the looking.
const readerEnv = "LAMPBLACK_TEST_READER"

func TestWhatCannotBeWrittenIsRead(t *testing.T) {
	for _, c := range []struct {
		name    string
		protect func(t *testing.T, path string)
		says    string
	}{
		{"the file is read-only", func(t *testing.T, path string) { mode(t, path, 0o444) }, "permission denied"},
		{"file and folder are read-only", func(t *testing.T, path string) {
			mode(t, path, 0o444)
			mode(t, filepath.Dir(path), 0o555)
		}, "permission denied"},
		{"the folder is read-only", func(t *testing.T, path string) {
			mode(t, path, 0o666)
			mode(t, filepath.Dir(path), 0o555)
		}, "does not let itself be written"},
		{"a crash left takes in the log, and all is read-only", func(t *testing.T, path string) {
			unfinished(t, path)
			mode(t, path, 0o444)
			mode(t, path+"-wal", 0o444)
			mode(t, filepath.Dir(path), 0o555)
		}, "a copy is shown"},
	} {
		t.Run(c.name, func(t *testing.T) {
			folder := filepath.Join(t.TempDir(), "shelf")
			path := filepath.Join(folder, "notebook"+Extension)
			b := openAt(t, path)
			keep(t, b, short(glasshouse(t, b), dust()))
			b.Close()
			mode(t, folder, 0o755)
			c.protect(t, path)
			t.Cleanup(func() { os.Chmod(folder, 0o700) })
			if said := readAsNobody(t, path); !strings.Contains(said, c.says) || !strings.Contains(said, "takes: 1") {
				t.Errorf("want one take and %q, got:\n%s", c.says, said)
			}
		})
	}
}

// unfinished turns a notebook into one whose only take stands in the log.
func unfinished(t *testing.T, path string) {
	t.Helper()
	os.Remove(path)
	b := openAt(t, path)
	keep(t, b, short(glasshouse(t, b), dust()))
	for _, end := range []string{"", "-wal"} { // as a kill would leave them
		if err := copyFile(path+end, path+end+".left"); err != nil {
			t.Fatal(err)
		}
	}
	b.Close()
	for _, end := range []string{"", "-wal"} {
		if err := os.Rename(path+end+".left", path+end); err != nil {
			t.Fatal(err)
		}
	}
}

func mode(t *testing.T, path string, m os.FileMode) {
	t.Helper()
	if err := os.Chmod(path, m); err != nil {
		t.Fatal(err)
	}
}

// readAsNobody opens the notebook in a child process without root's rights.
func readAsNobody(t *testing.T, path string) string {
	t.Helper()
	self := must(os.Executable())(t)
	child := exec.Command(self, "-test.run=^TestReaderChild$", "-test.v")
	if os.Getuid() == 0 {
		for folder := filepath.Dir(filepath.Dir(path)); folder != os.TempDir() && len(folder) > 1; folder = filepath.Dir(folder) {
			mode(t, folder, 0o755)
		}
		copied := filepath.Join(filepath.Dir(filepath.Dir(path)), "reader")
		if err := copyFile(self, copied); err != nil {
			t.Fatal(err)
		}
		mode(t, copied, 0o755)
		child = exec.Command(copied, "-test.run=^TestReaderChild$", "-test.v")
		child.Dir = "/"
		child.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: 65534, Gid: 65534}}
	}
	child.Env = append(os.Environ(), readerEnv+"="+path)
	said, err := child.CombinedOutput()
	if err != nil {
		t.Fatalf("the child failed: %v\n%s", err, said)
	}
	return string(said)
}

func TestReaderChild(t *testing.T) {
	path := os.Getenv(readerEnv)
	if path == "" {
		t.Skip("it is the child of TestWhatCannotBeWrittenIsRead")
	}
	b, err := Open(path, testOptions())
	if err != nil {
		t.Fatal(err)
	}
	ro, why := b.ReadOnly()
	if !ro {
		t.Fatal("it was opened for writing")
	}
	takes := must(b.AllTakes())(t)
	t.Logf("read only because %s; takes: %d", why, len(takes))
	for _, h := range takes {
		if p, err := b.Prove(context.Background(), h.ID, nil); err != nil || !p.OK() {
			t.Errorf("%v: %v", p, err)
		}
		if err := b.Export(h.ID, io.Discard); err != nil {
			t.Error(err)
		}
	}
	if _, err := b.AddJob(Job{Name: "x"}); !errors.Is(err, ErrReadOnly) {
		t.Errorf("writing gives %v", err)
	}
	if err := b.Close(); err != nil {
		t.Error(err)
	}
	asked := must(Open(path, Options{ReadOnly: true}))(t) // as a command does
	if again := must(asked.AllTakes())(t); len(again) != len(takes) {
		t.Errorf("%d takes when asked to read only, else %d", len(again), len(takes))
	}
	asked.Close()
	if b.copied != "" {
		if _, err := os.Stat(b.copied); err == nil {
			t.Error("the private copy was left behind")
		}
	}
}
