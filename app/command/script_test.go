package command

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

// TestMain lets the scripts run this test's own binary as lampblack. Opening
// the window is told on standard output; nothing here has a screen.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"lampblack": func() {
			os.Exit(Execute(Program{Version: "v0.0.0-test", OpenWindow: func(_ context.Context, w Window) error {
				_, err := fmt.Println("window on", w.Notebook, "buffer", w.Buffer, "timings", w.Timings)
				return err
			}}))
		},
	})
}

// tools check what the commands write from outside. They and the spoken
// recordings come from Debian's packages; see .ci/need.
var tools = []string{"sox", "soxi", "ffprobe", "flac", "unzip", "sqlite3"}

// speech is spoken by a person: part of Debian's package alsa-utils.
const speech = "/usr/share/sounds/alsa/Front_Center.wav"

// TestScripts runs testdata/script, what a user would type. Each script has a
// notebook of its own and neither display nor sound device.
func TestScripts(t *testing.T) {
	must := os.Getenv("LAMPBLACK_TOOLS") == "must"
	for _, tool := range tools {
		if _, err := exec.LookPath(tool); err != nil && must {
			t.Errorf("%s is missing; .ci/need test installs it", tool)
		}
	}
	if _, err := os.Stat(speech); err != nil && must {
		t.Errorf("%s is missing; .ci/need test installs it", speech)
	}
	testscript.Run(t, testscript.Params{
		Dir:                 filepath.Join("testdata", "script"),
		RequireExplicitExec: true,
		Setup: func(e *testscript.Env) error {
			e.Setenv("XDG_DATA_HOME", filepath.Join(e.WorkDir, "data"))
			e.Setenv("HOME", e.WorkDir)
			e.Setenv("SPEECH", speech)
			return nil
		},
		Condition: func(name string) (bool, error) {
			if name == "speech" {
				_, err := os.Stat(speech)
				return err == nil, nil
			}
			return false, fmt.Errorf("no such condition: %s", name)
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"exits": exits,
			"chain": chain,
		},
	})
}

// exits runs "exits CODE PROGRAM ARGUMENTS..." and holds the exit code.
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits CODE PROGRAM ARGUMENTS...")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	err = ts.Exec(args[1], args[2:]...)
	var exit *exec.ExitError
	switch {
	case errors.As(err, &exit):
		got = exit.ExitCode()
	case err != nil:
		ts.Fatalf("%s did not run: %v", args[1], err)
	}
	if got != want {
		ts.Fatalf("%s ends with %d, want %d", strings.Join(args[1:], " "), got, want)
	}
}

// chain writes "chain FILE N": a patch of N amplifiers in a row.
func chain(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: chain FILE N")
	}
	n, err := strconv.Atoi(args[1])
	ts.Check(err)
	var modules, cords []string
	for i := range n {
		modules = append(modules, fmt.Sprintf(`{"name": "m%d", "kind": "amplifier"}`, i))
		if i > 0 {
			cords = append(cords, fmt.Sprintf(`{"from": "m%d / out", "to": "m%d / in"}`, i-1, i))
		}
	}
	text := fmt.Sprintf(`{"lampblack patch": 1, "modules": [%s], "cords": [%s]}`,
		strings.Join(modules, ",\n"), strings.Join(cords, ",\n"))
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(text), 0o644))
}
