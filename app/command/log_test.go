package command

import (
	"bytes"
	"log"
	"testing"
)

func TestOnlyThePleaForTestFilesIsHushed(t *testing.T) {
	var seen bytes.Buffer
	l := log.New(hush{&seen}, "", 0)
	l.Printf("frame.Frame.parseHeader: The flac library test cases do not yet include any audio files with sample rate %d. If possible ...", 24000)
	l.Print("something else went wrong")
	if got := seen.String(); got != "something else went wrong\n" {
		t.Errorf("the log shows %q", got)
	}
}
