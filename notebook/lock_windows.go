package notebook

import (
	"errors"
	"os"
	"syscall"
)

// lockFile opens a file that others may only read while it is open
// (CreateFile without FILE_SHARE_WRITE): the second to ask is refused.
func lockFile(path string) (*os.File, error) {
	name, err := syscall.UTF16PtrFromString(path)
	if err != nil {
		return nil, err
	}
	const sharingViolation = syscall.Errno(32) // ERROR_SHARING_VIOLATION
	h, err := syscall.CreateFile(name, syscall.GENERIC_READ|syscall.GENERIC_WRITE, syscall.FILE_SHARE_READ,
		nil, syscall.OPEN_ALWAYS, syscall.FILE_ATTRIBUTE_NORMAL, 0)
	if errors.Is(err, sharingViolation) {
		return nil, errLocked
	}
	if err != nil {
		return nil, &os.PathError{Op: "lock", Path: path, Err: err}
	}
	return os.NewFile(uintptr(h), path), nil
}
