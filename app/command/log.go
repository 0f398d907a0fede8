package command

import (
	"bytes"
	"io"
)

// hush passes on what libraries write to the standard log, but for one plea of
// the FLAC decoder (mewkiz/flac 1.0.14, frame.parseHeader): for files at 24,000
// and 176,400 Hz it asks the authors of test files for samples, once a frame.
// It can go when the library has its test files.
type hush struct{ w io.Writer }

var plea = []byte("The flac library test cases do not yet include any audio files with sample rate")

// Write is called by the log with one whole message.
func (h hush) Write(message []byte) (int, error) {
	if bytes.Contains(message, plea) {
		return len(message), nil
	}
	return h.w.Write(message)
}
