package command

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"

	"lampblack/patch/memory"
)

func readMemory(ctx context.Context, path string) (memory.Memory, error) {
	file, err := readUpTo(ctx, path, maxPatchBytes)
	if err != nil {
		return memory.Memory{}, err
	}
	var m memory.Memory
	if err = m.UnmarshalJSON(file); err == nil {
		err = m.Validate()
	}
	if err != nil {
		return memory.Memory{}, fmt.Errorf("%s: it was not used:\n%w", path, few(err))
	}
	return m, nil
}

// readUpTo reads a whole file of at most limit bytes, or standard input ("-").
// It may be a pipe, and a pipe may wait for its writer for ever: ctx calls it
// off.
func readUpTo(ctx context.Context, path string, limit int64) ([]byte, error) {
	type result struct {
		file []byte
		err  error
	}
	done := make(chan result, 1) // the reader may end after nobody waits any more
	go func() {
		file, err := readAll(path, limit)
		done <- result{file, err}
	}()
	select {
	case r := <-done:
		return r.file, r.err
	case <-ctx.Done():
		return nil, ctx.Err()
	}
}

func readAll(path string, limit int64) ([]byte, error) {
	f := os.Stdin
	if path != "-" {
		var err error
		if f, err = os.Open(path); err != nil {
			return nil, told(path, err)
		}
		defer f.Close()
	}
	file, err := io.ReadAll(io.LimitReader(f, limit+1))
	if err != nil {
		return nil, told(path, err)
	}
	if int64(len(file)) > limit {
		return nil, fmt.Errorf("%s: it is larger than the %d MiB that are allowed; it was not read", path, limit>>20)
	}
	return file, nil
}

// openRegular opens what must be a file of known length: a pipe would be waited
// for, and a device may never end.
func openRegular(path string) (*os.File, os.FileInfo, error) {
	info, err := os.Stat(path)
	switch {
	case err != nil:
		return nil, nil, told(path, err)
	case info.IsDir():
		return nil, nil, fmt.Errorf("%s: this is a folder; name a file", path)
	case !info.Mode().IsRegular():
		return nil, nil, fmt.Errorf("%s: this is a pipe or a device; name a file", path)
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, nil, told(path, err)
	}
	return f, info, nil
}

func readRegular(path string, limit int64) ([]byte, error) {
	f, info, err := openRegular(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	if info.Size() > limit {
		return nil, fmt.Errorf("%s: it has %d MiB; %d are allowed; it was not read", path, info.Size()>>20, limit>>20)
	}
	file := make([]byte, info.Size())
	if _, err := io.ReadFull(f, file); err != nil {
		return nil, told(path, err)
	}
	return file, nil
}

// told puts a system's error into a sentence that begins with the file.
func told(path string, err error) error {
	if info, statErr := os.Stat(path); statErr == nil && info.IsDir() {
		return fmt.Errorf("%s: this is a folder (a directory); name a file", path)
	}
	if errors.Is(err, fs.ErrNotExist) {
		return &missingFile{path}
	}
	var p *fs.PathError
	if errors.As(err, &p) {
		err = p.Err
	}
	return fmt.Errorf("%s: it can't be read: %w", path, err)
}

// missingFile is fs.ErrNotExist in words.
type missingFile struct{ path string }

func (e *missingFile) Error() string        { return e.path + ": there is no such file" }
func (e *missingFile) Is(target error) bool { return target == fs.ErrNotExist }

// fewest is how many faults of a file are told in a terminal.
const fewest = 40

// few shortens a list of faults: who has forty lines to mend sees the rest next
// time.
func few(err error) error {
	many, ok := err.(interface{ Unwrap() []error })
	if !ok || len(many.Unwrap()) <= fewest {
		return err
	}
	all := many.Unwrap()
	rest := fmt.Errorf("... and %d faults more", len(all)-fewest)
	return errors.Join(append(all[:fewest:fewest], rest)...)
}
