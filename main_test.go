package main

import (
	"bytes"
	"os"
	"os/exec"
	"strings"
	"testing"
)

// TestMain lets a test run this binary as the program itself, with everything
// that the program loads.
func TestMain(m *testing.M) {
	if os.Getenv("LAMPBLACK_IS_THE_PROGRAM") != "" {
		main()
		return
	}
	os.Exit(m.Run())
}

// program runs lampblack as in a container: no display, no sound server, no
// locale but the C locale in UTF-8.
func program(t *testing.T, args ...string) (out, told string) {
	t.Helper()
	c := exec.Command(os.Args[0], args...)
	c.Env = []string{"LAMPBLACK_IS_THE_PROGRAM=1", "LANG=C.UTF-8", "HOME=" + t.TempDir(), "PATH=" + os.Getenv("PATH")}
	var o, e bytes.Buffer
	c.Stdout, c.Stderr = &o, &e
	if err := c.Run(); err != nil {
		t.Fatalf("lampblack %s: %v\n%s", strings.Join(args, " "), err, e.String())
	}
	return o.String(), e.String()
}

func TestACommandNeedsNoScreenAndSaysNothingOfIt(t *testing.T) {
	out, told := program(t, "module", "list")
	if !strings.Contains(out, "oscillator") {
		t.Errorf("module list prints %q", out)
	}
	if told != "" {
		t.Errorf("on standard error stands %q, want nothing", told)
	}
}

func TestTheVersionIsKnown(t *testing.T) {
	if out, _ := program(t, "--version"); !strings.HasPrefix(out, "lampblack ") || strings.TrimSpace(out) == "lampblack" {
		t.Errorf("--version prints %q", out)
	}
}
