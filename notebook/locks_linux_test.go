package notebook

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// Opening a file twice in one program must not lose the locks that SQLite has
// on it (sqlite.org/howtocorrupt.html, section 2.2).
func TestOpeningTwiceKeepsTheLocks(t *testing.T) {
	first := openNew(t)
	keep(t, first, short(glasshouse(t, first), dust()))
	before := locksOn(t, first.Path())
	if before == 0 {
		t.Fatal("there is no lock to lose")
	}
	link := filepath.Join(t.TempDir(), "link")
	if err := os.Symlink(first.Path(), link); err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{first.Path(), link} {
		openAt(t, path).Close()
		if now := locksOn(t, first.Path()); now != before {
			t.Errorf("%d locks before, %d after opening and closing %s again", before, now, path)
		}
	}
}

// locksOn counts the locks that this process has on a file.
func locksOn(t *testing.T, path string) (n int) {
	t.Helper()
	info := must(os.Stat(path))(t)
	inode := fmt.Sprintf(":%d ", info.Sys().(*syscall.Stat_t).Ino)
	for _, line := range strings.Split(string(must(os.ReadFile("/proc/locks"))(t)), "\n") {
		if strings.Contains(line, fmt.Sprintf(" %d ", os.Getpid())) && strings.Contains(line, inode) {
			n++
		}
	}
	return n
}
