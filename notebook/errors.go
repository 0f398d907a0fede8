package notebook

import (
	"errors"
	"fmt"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"
)

// The reasons that callers tell apart with errors.Is. The message of the error
// itself says where, what is allowed and what happens now.
var (
	ErrNotNotebook   = errors.New("not a Lampblack notebook")
	ErrNewer         = errors.New("written by a newer version of Lampblack")
	ErrReadOnly      = errors.New("the notebook is open for reading only")
	ErrOpenElsewhere = errors.New("the work in progress is open in another window")
	ErrFull          = errors.New("the disk is full")
	ErrBusy          = errors.New("another program is writing to the notebook")
	ErrDamaged       = errors.New("the notebook file is damaged")
	ErrMissing       = errors.New("not in the notebook")
	ErrInUse         = errors.New("still in use")
	ErrTaken         = errors.New("the name is taken")
)

// reason puts the fitting Err value in front of an error of SQLite, so that
// callers and people need not know its codes.
func reason(err error) error {
	var e *sqlite.Error
	if !errors.As(err, &e) {
		return err
	}
	if noRoom(e) {
		return fmt.Errorf("%w: %w", ErrFull, err)
	}
	switch e.Code() & 0xff { // the low byte is the primary code (sqlite.org/rescode.html)
	case sqlite3.SQLITE_FULL:
		return fmt.Errorf("%w: %w", ErrFull, err)
	case sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED:
		return fmt.Errorf("%w: %w", ErrBusy, err)
	case sqlite3.SQLITE_READONLY:
		return fmt.Errorf("%w: %w", ErrReadOnly, err)
	case sqlite3.SQLITE_CORRUPT:
		return fmt.Errorf("%w: %w", ErrDamaged, err)
	case sqlite3.SQLITE_NOTADB:
		return fmt.Errorf("%w: %w", ErrNotNotebook, err)
	}
	return err
}
