package command

import (
	"bytes"
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// A render of an hour is called off as soon as it has begun; wherever that
// meets it, nothing may be left.
func TestCtrlCLeavesNothingBehind(t *testing.T) {
	folder := t.TempDir()
	file := filepath.Join(folder, "tone.json")
	tone := `{"lampblack patch": 1, "modules": [{"name": "tone", "kind": "oscillator"}, {"name": "out", "kind": "output"}],
		"cords": [{"from": "tone / out", "to": "out / left"}]}`
	if err := os.WriteFile(file, []byte(tone), 0o600); err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(t.Context())
	var out, told bytes.Buffer
	code := make(chan int)
	go func() {
		code <- run(ctx, Program{}, []string{"render", file, "-o", filepath.Join(folder, "tone.wav"), "--seconds", "3600"}, &out, &told)
	}()
	cancel()
	if got := <-code; got != ExitInterrupted {
		t.Errorf("the exit code is %d, want %d; told was %s", got, ExitInterrupted, told.String())
	}
	only(t, folder, "tone.json", tone)
}

// A pipe without a writer is waited for, until somebody has waited enough.
func TestCtrlCEndsTheWaitForAPipe(t *testing.T) {
	pipe := filepath.Join(t.TempDir(), "pipe")
	if out, err := exec.Command("mkfifo", pipe).CombinedOutput(); err != nil {
		t.Skipf("no pipes here: %v %s", err, out)
	}
	ctx, cancel := context.WithCancel(t.Context())
	var out, told bytes.Buffer
	code := make(chan int)
	go func() { code <- run(ctx, Program{}, []string{"render", pipe, "-o", pipe + ".wav"}, &out, &told) }()
	cancel()
	if got := <-code; got != ExitInterrupted {
		t.Errorf("the exit code is %d, want %d; told was %s", got, ExitInterrupted, told.String())
	}
}
