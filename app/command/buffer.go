package command

import (
	"fmt"
	"strings"
	"time"
)

// The buffer between the sound and the loudspeaker: below 1,024 frames at 48 kHz
// drop-outs can be heard, above a second nobody can play.
const (
	usualBuffer = 50 * time.Millisecond
	leastBuffer = time.Second * 1024 / 48000
	mostBuffer  = time.Second
)

// bufferHelp is what --help says of --buffer.
const bufferHelp = "`time` from the sound to the loudspeaker, 21.4ms (1,024 frames) to 1s; longer where it crackles"

// timingsHelp is what --help says of --timings.
const timingsHelp = "`file` into which the window writes, when it is closed, how fast it was while the memory played: times between frames, of what is computed for one, and of blocks of sound, as JSON"

// readBuffer reads what was given as --buffer: "80ms", "80 ms", "0.1s".
func readBuffer(text string) (time.Duration, error) {
	d, err := time.ParseDuration(strings.ReplaceAll(text, " ", ""))
	if err != nil || d < leastBuffer || d > mostBuffer {
		return 0, fmt.Errorf("--buffer is %q; it must be 21.4ms (1,024 frames) to 1s, written like 80ms or 0.1s; the window was not opened", text)
	}
	return d, nil
}
