package notebook

import (
	"errors"
	"fmt"
	"os"
	"strings"
	"time"
)

// A draftLock holds the work in progress for one Book. It is a lock of the
// operating system on a small file beside the notebook: the system gives it
// free when the program ends, however it ends, so no stale lock can stay. The
// file itself stays (removing it would let two programs hold two files of one
// name); its text only tells people who has it.
type draftLock struct{ file *os.File }

// errLocked is what lockFile returns when somebody else has the lock.
var errLocked = errors.New("locked")

func lockDraft(notebook string, now time.Time) (*draftLock, error) {
	f, err := lockFile(notebook + "-draft")
	if errors.Is(err, errLocked) {
		return nil, fmt.Errorf("%w%s; takes can be read and kept here as well, but nothing unkept is stored; close the other window to have it here", ErrOpenElsewhere, holder(notebook))
	}
	if err != nil {
		return nil, fmt.Errorf("the work in progress can't be stored: %w", err)
	}
	host, _ := os.Hostname() // for people only; empty does no harm
	text := fmt.Sprintf("process %d on %s since %s\n", os.Getpid(), host, now.UTC().Format(time.RFC3339))
	// Not being able to write the note is no reason not to hold the lock.
	if f.Truncate(0) == nil {
		f.WriteAt([]byte(text), 0)
	}
	return &draftLock{f}, nil
}

// holder reads who has the lock, for the message.
func holder(notebook string) string {
	text, err := os.ReadFile(notebook + "-draft")
	line, _, _ := strings.Cut(string(text), "\n")
	if err != nil || line == "" || len(line) > 200 {
		return ""
	}
	return " (" + line + ")"
}

func (l *draftLock) release() error {
	l.file.Truncate(0) // so that no old name is told; the lock decides, not the text
	return l.file.Close()
}
