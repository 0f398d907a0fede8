//go:build unix

package notebook

import (
	"errors"
	"os"
	"syscall"
)

// lockFile opens and locks a file with flock(2), which belongs to the open
// file: two Books in one program exclude each other as well.
func lockFile(path string) (*os.File, error) {
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return nil, err
	}
	for {
		err = syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
		if !errors.Is(err, syscall.EINTR) {
			break
		}
	}
	if err == nil {
		return f, nil
	}
	f.Close()
	if errors.Is(err, syscall.EWOULDBLOCK) {
		return nil, errLocked
	}
	return nil, &os.PathError{Op: "lock", Path: path, Err: err}
}
