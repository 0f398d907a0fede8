package notebook

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"runtime/debug"
	"strings"
	"syscall"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"
)

// Settings of the connections. trusted_schema, cell_size_check and defensive
// are what sqlite.org/security.html asks for with files that somebody else may
// have made. synchronous = FULL: a commit has reached the disk when it returns.
var (
	commonSettings = []string{
		"_defensive=1", "_dqs=0",
		"_pragma=busy_timeout(10000)", "_pragma=foreign_keys(1)",
		"_pragma=trusted_schema(0)", "_pragma=cell_size_check(1)",
	}
	writerSettings = append([]string{
		"mode=rwc", "_txlock=immediate",
		"_pragma=synchronous(FULL)", "_pragma=recursive_triggers(1)",
		"_pragma=journal_size_limit(16777216)", // the log shrinks again after a long audition
	}, commonSettings...)
	readerSettings    = append([]string{"mode=rw", "_query_only=1"}, commonSettings...)
	onlyReadSettings  = append([]string{"mode=ro", "_query_only=1"}, commonSettings...)
	immutableSettings = append([]string{"mode=ro", "immutable=1", "_query_only=1"}, commonSettings...)
)

// source returns the SQLite URI of a file; a path may hold any character.
func source(path string, settings []string) string {
	path = filepath.ToSlash(path)
	if !strings.HasPrefix(path, "/") {
		path = "/" + path // C:/... on Windows
	}
	u := url.URL{Scheme: "file", OmitHost: true, Path: path, RawQuery: strings.Join(settings, "&")}
	return u.String()
}

func openReaders(source string) (*sql.DB, error) {
	db, err := sql.Open("sqlite", source)
	if err != nil {
		return nil, err
	}
	db.SetMaxOpenConns(4)
	version, err := formatOf(db)
	switch {
	case err == nil && version == 0:
		err = errors.New("it is empty; open it once where it can be written, then it becomes a notebook")
	case err == nil && version < formatVersion:
		err = fmt.Errorf("it is of version %d, this program reads version %d; open it once where it can be written, then it is brought up to date", version, formatVersion)
	}
	if err != nil {
		db.Close()
		return nil, err
	}
	return db, nil
}

// openReading opens a file that is not to be written (settings: readerSettings)
// or can't be (onlyReadSettings). A write-ahead log needs a shared-memory file
// beside it, which such a folder may not take (sqlite.org/wal.html, section 5).
func (b *Book) openReading(settings []string) error {
	db, err := openReaders(source(b.path, settings))
	if err != nil && refusesWriting(err) {
		db, err = b.openStill()
	}
	b.read = db
	return err
}

// openStill opens a file in a folder that takes no shared-memory file. With
// nothing left in the log the file itself is complete; otherwise a private
// copy of file and log is opened, so that the last takes are seen as well.
func (b *Book) openStill() (*sql.DB, error) {
	log, err := os.Stat(b.path + "-wal")
	if errors.Is(err, fs.ErrNotExist) || err == nil && log.Size() == 0 {
		return openReaders(source(b.path, immutableSettings))
	}
	if err != nil {
		return nil, err
	}
	if b.copied, err = os.MkdirTemp("", "lampblack-"); err != nil {
		return nil, fmt.Errorf("its log can't be read in place, and no copy could be made: %w", err)
	}
	file := filepath.Join(b.copied, "notebook"+Extension)
	for _, end := range []string{"", "-wal"} {
		if err := copyFile(b.path+end, file+end); err != nil {
			return nil, fmt.Errorf("its log can't be read in place, and no copy could be made: %w", err)
		}
	}
	b.why += "; a copy is shown, as it was at this moment"
	return openReaders(source(file, readerSettings))
}

func copyFile(from, to string) error {
	in, err := os.Open(from)
	if err != nil {
		return err
	}
	defer in.Close()
	out, err := os.OpenFile(to, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return err
	}
	_, err = io.Copy(out, in)
	return errors.Join(err, out.Close())
}

// refusesWriting reports whether the reason of an error is that the file, its
// folder or its disk can't be written.
func refusesWriting(err error) bool {
	if errors.Is(err, fs.ErrPermission) || errors.Is(err, syscall.EROFS) || errors.Is(err, ErrReadOnly) {
		return true
	}
	var e *sqlite.Error
	return errors.As(err, &e) && (e.Code()&0xff == sqlite3.SQLITE_CANTOPEN || noRoom(e))
}

// noRoom reports whether the disk has no room for the shared-memory file that a
// write-ahead log needs (sqlite.org/rescode.html, SQLITE_IOERR_SHMSIZE).
func noRoom(e *sqlite.Error) bool { return e.Code() == sqlite3.SQLITE_IOERR_SHMSIZE }

// plain returns the innermost message, which is what the system said.
func plain(err error) error {
	for {
		next := errors.Unwrap(err)
		if next == nil {
			return err
		}
		err = next
	}
}

// change runs one writing transaction: all of do or nothing. When it returns
// nil, the change has reached the disk.
func (b *Book) change(ctx context.Context, do func(tx *sql.Tx) error) error {
	if b.write == nil {
		return fmt.Errorf("%w: %s", ErrReadOnly, b.why)
	}
	tx, err := b.write.BeginTx(ctx, nil)
	if err != nil {
		return reason(err)
	}
	defer tx.Rollback() // after a commit it does nothing
	if err := do(tx); err != nil {
		return reason(err)
	}
	return reason(tx.Commit())
}

// buildVersion returns the version that the program was built as.
func buildVersion() string {
	if info, ok := debug.ReadBuildInfo(); ok && info.Main.Version != "" {
		return info.Main.Version
	}
	return "(devel)"
}
