package notebook

import (
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"time"

	"github.com/adrg/xdg"
	"modernc.org/sqlite"
)

// Extension is the ending of a notebook's file name.
const Extension = ".lampblack"

// DefaultPath returns where the notebook lives when nothing else is said:
// lampblack/notebook.lampblack in the user's data folder, which is
// $XDG_DATA_HOME or ~/.local/share on Linux (XDG Base Directory Specification)
// and the system's usual place elsewhere.
func DefaultPath() string {
	return filepath.Join(xdg.DataHome, "lampblack", "notebook"+Extension)
}

// Options says how to open a notebook. The zero value opens for writing.
type Options struct {
	ReadOnly bool             // open for reading only, and make nothing
	Now      func() time.Time // the clock; nil means time.Now
	Program  string           // version of the program, written into takes; empty means that of the build
}

// Book is an open notebook. All methods may be used from several goroutines,
// and several programs may have the same file open: writers wait for each
// other up to 10 s (then ErrBusy), readers never wait. Only the draft belongs to one
// Book at a time; see LockDraft.
type Book struct {
	path    string
	read    *sql.DB // several connections, query only
	write   *sql.DB // one connection; nil when open for reading only
	why     string  // why it is open for reading only
	now     func() time.Time
	program string
	copied  string // folder of a private copy that was opened instead, or ""

	desk sync.Mutex // guards lock and unsaved
	lock *draftLock
	held *Draft // the last draft that could not be written
}

// Open opens the notebook at path. If there is none it makes it, with the
// folders above it, unless o.ReadOnly is set (then the error is fs.ErrNotExist).
//
// A file, folder or disk that does not let itself be written is opened for
// reading only; Book.ReadOnly says why. A file that is something else
// (ErrNotNotebook) or of a newer version (ErrNewer) is refused and not
// touched.
func Open(path string, o Options) (*Book, error) {
	path, err := filepath.Abs(path)
	if err != nil {
		return nil, fmt.Errorf("notebook %q: %w", path, err)
	}
	// Two names of one file must find the same lock.
	if real, err := filepath.EvalSymlinks(path); err == nil {
		path = real
	}
	b := &Book{path: path, now: o.Now, program: o.Program}
	if b.now == nil {
		b.now = time.Now
	}
	if b.program == "" {
		b.program = buildVersion()
	}
	if err := b.open(o.ReadOnly); err != nil {
		b.Close()
		return nil, fmt.Errorf("notebook %s: %w", path, err)
	}
	return b, nil
}

func (b *Book) open(readOnly bool) error {
	fault, unwritable := b.enter(!readOnly)
	if fault != nil {
		return fault
	}
	if readOnly {
		b.why = "it was opened for reading only"
		if unwritable != nil {
			return b.openReading(onlyReadSettings)
		}
		return b.openReading(readerSettings) // as the last to close, it may clear away the log
	}
	err := unwritable
	if err == nil {
		err = b.openWriting()
	}
	if err == nil || !refusesWriting(err) {
		return err
	}
	b.why = fmt.Sprintf("%s does not let itself be written (%v)", b.path, plain(err))
	if errors.Is(err, ErrFull) {
		b.why = ErrFull.Error()
	}
	return b.openReading(onlyReadSettings)
}

// openWriting fills a new file or upgrades an old one, and opens it for writing
// and reading.
func (b *Book) openWriting() error {
	// The same fdatasync(2) that SQLite uses in the builds of Linux
	// distributions; where there is none it stays with fsync(2).
	sqlite.Fdatasync(true)

	write, err := sql.Open("sqlite", source(b.path, writerSettings))
	if err != nil {
		return err
	}
	write.SetMaxOpenConns(1) // writers queue here instead of in SQLite's busy loop
	err = b.prepare(write)
	if err != nil {
		write.Close()
		return err
	}
	read, err := openReaders(source(b.path, readerSettings))
	if err != nil {
		write.Close()
		return err
	}
	b.write, b.read = write, read
	return nil
}

// prepare checks what the file is, and brings it to this program's version.
func (b *Book) prepare(db *sql.DB) error {
	version, err := formatOf(db)
	if err != nil {
		return err
	}
	if version < formatVersion {
		if err := upgrade(db, version, steps); err != nil {
			return fmt.Errorf("it could not be brought to version %d and stays as it was: %w", formatVersion, err)
		}
	}
	var mode string
	if err := db.QueryRow("PRAGMA journal_mode = WAL").Scan(&mode); err != nil {
		return reason(err)
	}
	if mode != "wal" {
		return fmt.Errorf("this disk can't hold a write-ahead log (SQLite chose %q); choose a place on a local disk", mode)
	}
	return nil
}

// Path returns the file's absolute path.
func (b *Book) Path() string { return b.path }

// ReadOnly reports whether nothing can be kept, and why, as a clause for a
// sentence ("the notebook is open for reading only: ...").
func (b *Book) ReadOnly() (bool, string) { return b.write == nil, b.why }

// Close gives the draft free and closes the file. The draft itself stays in
// the file.
func (b *Book) Close() error {
	var faults []error
	if b.read != nil {
		faults = append(faults, b.read.Close())
	}
	if b.write != nil {
		faults = append(faults, b.write.Close())
	}
	b.desk.Lock()
	defer b.desk.Unlock()
	if b.lock != nil {
		faults = append(faults, b.lock.release())
		b.lock = nil
	}
	b.leave()
	if b.copied != "" {
		faults = append(faults, os.RemoveAll(b.copied))
	}
	return errors.Join(faults...)
}
