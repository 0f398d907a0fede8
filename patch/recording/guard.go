package recording

import (
	"bytes"
	"fmt"
	"io"
)

// newReader returns a reader of a file's bytes.
func newReader(file []byte) io.Reader { return bytes.NewReader(file) }

// countingReader tells how far a decoder has read, for messages.
type countingReader struct {
	r io.Reader
	n int64
}

func (c *countingReader) Read(p []byte) (int, error) {
	n, err := c.r.Read(p)
	c.n += int64(n)
	return n, err
}

// turnPanic, deferred, turns a decoder's panic into an error: no file may stop
// the program, whatever the decoder made of it.
func turnPanic(format string, err *error) {
	if fault := recover(); fault != nil {
		*err = fmt.Errorf("the %s file is damaged in a way that its decoder does not expect; nothing was read: %v", format, fault)
	}
}
