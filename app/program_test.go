package app

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
)

// built is the program, built once for all tests of this package.
var built struct {
	sync.Once
	path string
	err  error
}

// TestMain takes the built program away at the end.
func TestMain(m *testing.M) {
	code := m.Run()
	if built.path != "" {
		os.RemoveAll(filepath.Dir(built.path))
	}
	os.Exit(code)
}

// program builds lampblack and returns its path.
func program(t testing.TB) string {
	t.Helper()
	built.Do(func() {
		folder, err := os.MkdirTemp("", "lampblack")
		if err != nil {
			built.err = err
			return
		}
		built.path = filepath.Join(folder, "lampblack")
		if out, err := exec.Command("go", "build", "-o", built.path, "lampblack").CombinedOutput(); err != nil {
			t.Log(string(out))
			built.err = err
		}
	})
	if built.err != nil {
		t.Fatalf("the program can't be built: %v", built.err)
	}
	return built.path
}

// container runs the program as in a container: no display, no sound server,
// no locale but the C locale in UTF-8.
func container(t *testing.T, args ...string) (out, told string) {
	t.Helper()
	c := exec.Command(program(t), args...)
	c.Env = []string{"LANG=C.UTF-8", "HOME=" + t.TempDir(), "PATH=" + os.Getenv("PATH")}
	var o, e bytes.Buffer
	c.Stdout, c.Stderr = &o, &e
	if err := c.Run(); err != nil {
		t.Fatalf("lampblack %s: %v\n%s", strings.Join(args, " "), err, e.String())
	}
	return o.String(), e.String()
}

// The toolkit complains about that locale while it is being loaded, if nobody
// is faster: see package locale.
func TestACommandNeedsNoScreenAndSaysNothingOfIt(t *testing.T) {
	out, told := container(t, "module", "list")
	if !strings.Contains(out, "oscillator") {
		t.Errorf("module list prints %q", out)
	}
	if told != "" {
		t.Errorf("on standard error stands %q, want nothing", told)
	}
}

func TestTheVersionIsKnown(t *testing.T) {
	if out, _ := container(t, "--version"); !strings.HasPrefix(out, "lampblack ") || strings.TrimSpace(out) == "lampblack" {
		t.Errorf("--version prints %q", out)
	}
}
