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
	folder := smallDisk(t)
	b := openAt(t, filepath.Join(folder, "notebook"+Extension))
	cue := glasshouse(t, b)
	ballast := filepath.Join(folder, "ballast")
	fullDisk(t, b, cue, func() { fillDisk(t, ballast) }, func() { os.Remove(ballast) })
	b.Close() // before the file system goes
}

// On a disk without a byte of room there is no shared-memory file for the log
// either; what is kept must be read all the same.
func TestANotebookOnAFullDiskIsRead(t *testing.T) {
	folder := smallDisk(t)
	path := filepath.Join(folder, "notebook"+Extension)
	b := openAt(t, path)
	cue := glasshouse(t, b)
	kept := keep(t, b, short(cue, dust()))
	b.Close()
	fillDisk(t, filepath.Join(folder, "ballast"))
	for _, readOnly := range []bool{true, false} {
		b, err := Open(path, Options{ReadOnly: readOnly})
		if err != nil {
			t.Fatal(err)
		}
		if p, err := b.Prove(t.Context(), kept.ID, nil); err != nil || !p.OK() {
			t.Errorf("opened for reading only: %t; the proof says %v, %v", readOnly, p, err)
		}
		if shut, why := b.ReadOnly(); !shut || !readOnly && why != ErrFull.Error() {
			t.Errorf("the notebook is read only: %t, because %q; want %q", shut, why, ErrFull)
		}
		b.Close()
	}
}

// smallDisk returns the folder of a file system of 4 MiB.
func smallDisk(t *testing.T) string {
	t.Helper()
	folder := t.TempDir()
	if err := syscall.Mount("tmpfs", folder, "tmpfs", 0, "size=4m"); err != nil {
		if errors.Is(err, syscall.EPERM) || errors.Is(err, syscall.EACCES) {
			t.Skip("only root may mount; TestAFullDiskLosesNothing sets the same limit inside SQLite")
		}
		t.Fatal(err)
	}
	t.Cleanup(func() { syscall.Unmount(folder, syscall.MNT_DETACH) })
	return folder
}

func fillDisk(t *testing.T, ballast string) {
	t.Helper()
	f := must(os.Create(ballast))(t)
	defer f.Close()
	for _, size := range []int{4096, 1} {
		block := make([]byte, size)
		for {
			if _, err := f.Write(block); err != nil {
				break
			}
		}
	}
}
