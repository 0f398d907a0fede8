package command

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
)

// target is a file that a command is about to write: either all of it appears,
// or none. The name "-" stands for standard output.
type target struct {
	path  string
	force bool      // whether a file of that name may be replaced
	out   io.Writer // standard output
}

// check tells before any work is done whether the file may be written.
func (t target) check() error {
	switch {
	case t.path == "":
		return errors.New("no output file; name one with -o FILE, or -o - for standard output")
	case t.path == "-":
		return nil
	}
	info, err := os.Stat(t.path)
	switch {
	case err == nil && info.IsDir():
		return fmt.Errorf("%s: this is a folder; name a file in it; nothing was written", t.path)
	case err == nil && !info.Mode().IsRegular(), err == nil && t.force:
		return nil
	case err == nil:
		return t.exists()
	}
	if d, err := os.Stat(filepath.Dir(t.path)); err != nil || !d.IsDir() {
		return fmt.Errorf("%s: there is no folder %q; nothing was written", t.path, filepath.Dir(t.path))
	}
	return nil
}

func (t target) exists() error {
	return fmt.Errorf("%s: there is such a file already; it was left as it is (--force replaces it)", t.path)
}

// spare refuses to write over files that the work itself stands on, even if
// they may be replaced: a patch must not become its own sound.
func (t target) spare(files ...string) error {
	out, err := os.Stat(t.path)
	if t.path == "-" || err != nil || !out.Mode().IsRegular() {
		return nil
	}
	for _, f := range files {
		if info, err := os.Stat(f); err == nil && os.SameFile(info, out) {
			return fmt.Errorf("%s: this is what is being read; name another file; it was left as it is", t.path)
		}
	}
	return nil
}

// write calls fill with a file beside the target, and gives it the target's
// name once it is complete and on the disk.
func (t target) write(fill func(io.Writer) error) error {
	if t.path == "-" {
		return fill(t.out)
	}
	if info, err := os.Stat(t.path); err == nil && !info.Mode().IsRegular() {
		return t.pour(fill) // a pipe or a device is never replaced by a file
	}
	if real, err := filepath.EvalSymlinks(t.path); err == nil {
		t.path = real // the file is replaced, the link to it stays
	}
	// The partial file does not bear the name: with it, a long one would be too long.
	partial := filepath.Join(filepath.Dir(t.path), fmt.Sprintf(".lampblack.%08x.partial", rand.Uint32()))
	f, err := os.OpenFile(partial, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return fmt.Errorf("%s: nothing was written: %w", t.path, err)
	}
	defer os.Remove(partial)
	err = errors.Join(fill(f), f.Sync(), f.Close())
	if err != nil {
		return fmt.Errorf("%s: nothing was written: %w", t.path, err)
	}
	return t.give(partial)
}

// pour writes into what is there: a pipe, a device.
func (t target) pour(fill func(io.Writer) error) error {
	f, err := os.OpenFile(t.path, os.O_WRONLY, 0)
	if err == nil {
		err = errors.Join(fill(f), f.Close())
	}
	if err != nil {
		return fmt.Errorf("%s: not all of it could be written: %w", t.path, err)
	}
	return nil
}

// give moves a complete file to its name.
func (t target) give(partial string) error {
	if t.force {
		return t.rename(partial)
	}
	// A link fails if the name came up meanwhile; a rename would replace it.
	err := os.Link(partial, t.path)
	switch {
	case err == nil:
		return nil
	case errors.Is(err, fs.ErrExist):
		return t.exists()
	}
	if _, statErr := os.Lstat(t.path); statErr == nil { // a file system without links
		return t.exists()
	}
	return t.rename(partial)
}

func (t target) rename(partial string) error {
	if err := os.Rename(partial, t.path); err != nil {
		return fmt.Errorf("%s: nothing was written: %w", t.path, err)
	}
	return nil
}
