package recording

import (
	"bytes"
	"fmt"
	"io"

	"github.com/gopxl/beep/v2"
)

// newReader returns a reader of a file's bytes that cannot seek: a decoder that
// can seek first runs through the whole file to learn its length.
func newReader(file []byte) io.ReadCloser {
	return io.NopCloser(struct{ io.Reader }{bytes.NewReader(file)})
}

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

func (c *countingReader) Close() error { return nil }

// turnPanic, deferred, turns a decoder's panic into an error: no file may stop
// the program, whatever the decoder made of it.
func turnPanic(format string, err *error) {
	if fault := recover(); fault != nil {
		*err = fmt.Errorf("the %s file is damaged in a way that its decoder does not expect; it was not loaded: %v", format, fault)
	}
}

// drain reads a stream to its end, but no further than a recording may last.
func drain(s beep.Streamer, info *Info, read *countingReader) ([][]float64, error) {
	channels := make([][]float64, info.Channels)
	var buffer [512][2]float64
	for idle := 0; ; {
		n, ok := s.Stream(buffer[:])
		for c := range channels {
			for _, pair := range buffer[:n] {
				channels[c] = append(channels[c], pair[c])
			}
		}
		if err := s.Err(); err != nil {
			return nil, fmt.Errorf("the %s file is damaged at sample %d (before byte %d); it was not loaded: %w", info.Format, len(channels[0]), read.n, err)
		}
		if int64(len(channels[0])) > maxFrames(info.Rate) {
			return nil, fmt.Errorf("the %s file goes on past the %.4g s that a recording may last; it was not loaded", info.Format, maxSeconds(info.Rate))
		}
		if n > 0 {
			idle = 0
		} else if idle++; idle > 1000 {
			ok = false // a stream that neither gives nor ends
		}
		if !ok {
			return channels, nil
		}
	}
}
