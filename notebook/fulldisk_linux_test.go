package notebook

import (
	"errors"
	"os"
	"path/filepath"
	"syscall"
	"testing"
)

// A real file system that is full, where the test may mount one.
func TestAFullFileSystemLosesNothing(t *testing.T) {
	folder := t.TempDir()
	if err := syscall.Mount("tmpfs", folder, "tmpfs", 0, "size=4m"); err != nil {
		if errors.Is(err, syscall.EPERM) || errors.Is(err, syscall.EACCES) {
			t.Skip("only root may mount; TestAFullDiskLosesNothing sets the same limit inside SQLite")
		}
		t.Fatal(err)
	}
	t.Cleanup(func() { syscall.Unmount(folder, syscall.MNT_DETACH) })
	b := openAt(t, filepath.Join(folder, "notebook"+Extension))
	cue := glasshouse(t, b)
	ballast := filepath.Join(folder, "ballast")
	fullDisk(t, b, cue, func() {
		f := must(os.Create(ballast))(t)
		defer f.Close()
		block := make([]byte, 4096)
		for {
			if _, err := f.Write(block); err != nil {
				break
			}
		}
	}, func() { os.Remove(ballast) })
	b.Close() // before the file system goes
}
