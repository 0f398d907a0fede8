// Package scipy asks scipy, a reference library of its own, for what a test
// compares with.
//
// It runs the system's python3 (the Debian package python3-scipy), never one of a
// project. Held by the tests that use it.
package scipy

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"testing"
)

// python is the system's: the first one on the path may be without scipy.
const python = "/usr/bin/python3"

// Ask runs a program that finds given as the value x, numpy as np, scipy.signal
// as s and scipy.fft as fft, and prints one JSON value, which is read into to.
// Without scipy the test is skipped, or fails where LAMPBLACK_TOOLS=must.
func Ask(t testing.TB, program string, given, to any) {
	t.Helper()
	if err := exec.Command(python, "-c", "import scipy.signal").Run(); err != nil {
		if os.Getenv("LAMPBLACK_TOOLS") == "must" {
			t.Fatalf("scipy is needed to check against: .ci/need test installs it (%v)", err)
		}
		t.Skipf("scipy is missing: .ci/need test installs it (%v)", err)
	}
	in, err := json.Marshal(given)
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(python, "-c", "import json, sys, numpy as np, scipy.signal as s, scipy.fft as fft\nx = json.load(sys.stdin)\n"+program)
	cmd.Stdin = bytes.NewReader(in)
	var complaint bytes.Buffer
	cmd.Stderr = &complaint
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%v: %s", err, complaint.String())
	}
	if err := json.Unmarshal(out, to); err != nil {
		t.Fatalf("%v in %s", err, out)
	}
}
