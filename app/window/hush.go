package window

import (
	"bytes"
	"io"
	"log"
	"os"
)

// hush passes the log on without the toolkit's complaints that tell a person
// nothing: whoever starts the program in a terminal should see only what is
// wrong.
type hush struct {
	to       io.Writer
	dropping bool
}

// needless are the first lines of such complaints (fyne v2.7.1).
var needless = [][]byte{
	[]byte("Preferences load error"),     // it reads its file while another window writes it
	[]byte("Getting favorite locations"), // the desktop has no folder of some kind
}

// Write takes one line of the log, as package log gives it. A complaint ends
// with the line that tells where it is from.
func (h *hush) Write(line []byte) (int, error) {
	if bytes.Contains(line, []byte("Fyne error:")) {
		h.dropping = false
		for _, n := range needless {
			h.dropping = h.dropping || bytes.Contains(line, n)
		}
	}
	drop := h.dropping
	if bytes.Contains(line, []byte("  At: ")) {
		h.dropping = false
	}
	if drop {
		return len(line), nil
	}
	return h.to.Write(line)
}

// hushLog hushes the log until restore is called.
func hushLog() (restore func()) {
	log.SetOutput(&hush{to: os.Stderr})
	return func() { log.SetOutput(os.Stderr) }
}
