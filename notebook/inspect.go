package notebook

import (
	"bytes"
	"database/sql"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
)

// opened lists the files that Books of this process have open. POSIX locks
// belong to the process: closing any descriptor of a file drops the locks that
// SQLite holds on it (sqlite.org/howtocorrupt.html, section 2.2). So a file
// that is open already must not be opened for a look.
var opened struct {
	sync.Mutex
	files map[*Book]os.FileInfo
}

// enter looks at the file before SQLite does, and notes that this Book has it
// open. With create it makes a missing file, empty, and the folders above. If
// the file can't be written, the system's error stands in second place.
func (b *Book) enter(create bool) (fault, unwritable error) {
	opened.Lock()
	defer opened.Unlock()
	info, err := os.Stat(b.path)
	if create && errors.Is(err, fs.ErrNotExist) {
		if err := makeEmpty(b.path); err != nil {
			return fmt.Errorf("it could not be made; choose a place that you may write to: %w", err), nil
		}
		info, err = os.Stat(b.path)
	}
	if err != nil {
		return err, nil
	}
	already := false
	for _, other := range opened.files {
		already = already || os.SameFile(info, other)
	}
	if !already {
		if err := inspect(b.path); err != nil {
			return err, nil
		}
		unwritable = writable(b.path)
	}
	if opened.files == nil {
		opened.files = map[*Book]os.FileInfo{}
	}
	opened.files[b] = info
	return nil, unwritable
}

func (b *Book) leave() {
	opened.Lock()
	defer opened.Unlock()
	delete(opened.files, b)
}

// inspect reads the header of a file, so that a file of somebody else stays
// untouched. An empty file is a new notebook. The layout is that of
// sqlite.org/fileformat2.html, section 1.3.
func inspect(path string) error {
	// Before it is opened: opening a pipe waits for its other end.
	if info, err := os.Stat(path); err != nil {
		return err
	} else if !info.Mode().IsRegular() {
		return fmt.Errorf("%w: it is a folder, a pipe or a device; name a file", ErrNotNotebook)
	}
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	defer f.Close()
	if _, err := os.Stat(path + "-journal"); err == nil {
		return nil // its making was cut off by a crash: SQLite will roll it back, and formatOf looks again
	}
	var head [100]byte
	n, err := io.ReadFull(f, head[:])
	if n == 0 && err == io.EOF {
		return nil
	}
	if err != nil && !errors.Is(err, io.ErrUnexpectedEOF) {
		return err
	}
	if n < len(head) || !bytes.HasPrefix(head[:], []byte("SQLite format 3\x00")) {
		return fmt.Errorf("%w: it is not an SQLite file; it was not touched", ErrNotNotebook)
	}
	version := int(binary.BigEndian.Uint32(head[60:]))
	return recognise(binary.BigEndian.Uint32(head[68:]), version)
}

// recognise judges the two marks of a file.
func recognise(application uint32, version int) error {
	if application != applicationID || version < 1 {
		return fmt.Errorf("%w: it is an SQLite file of another program; it was not touched", ErrNotNotebook)
	}
	if version > formatVersion {
		return fmt.Errorf("%w: it is of version %d, this program knows versions up to %d; it was not opened, not even for reading, because its meaning may have changed; use the newer program", ErrNewer, version, formatVersion)
	}
	return nil
}

// formatOf returns the file's version, 0 if it is empty.
func formatOf(db *sql.DB) (int, error) {
	var application int64
	var version, tables int
	for query, value := range map[string]any{
		"PRAGMA application_id":              &application,
		"PRAGMA user_version":                &version,
		"SELECT count(*) FROM sqlite_schema": &tables,
	} {
		if err := db.QueryRow(query).Scan(value); err != nil {
			return 0, reason(err)
		}
	}
	if application == 0 && version == 0 && tables == 0 {
		return 0, nil
	}
	return version, recognise(uint32(application), version)
}

// writable tells by opening whether the file can be written; SQLite would
// quietly fall back to reading.
func writable(path string) error {
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	return f.Close()
}

func makeEmpty(path string) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return err
	}
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE, 0o600)
	if err != nil {
		return err
	}
	return f.Close()
}
