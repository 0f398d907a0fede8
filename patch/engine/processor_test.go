package engine

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"testing"
)

// soundCode is every package whose arithmetic reaches a rendered sample.
var soundCode = regexp.MustCompile(`^lampblack/patch/(engine|kind|dsp|memory|module)\b`)

// fused is what the disassembler calls a fused multiply-add on arm64.
var fused = regexp.MustCompile(`\tFN?M(ADD|SUB)[SD]\b`)

// On arm64 the compiler joins x*y + z to one rounding unless the product is
// wrapped in float64(); the bits of a take would then depend on the processor.
func TestNoProductIsFusedWithASum(t *testing.T) {
	code := disassemble(t, testBinary(t, ".", "GOARCH=arm64"))
	var symbol, file string
	functions, found := map[string]bool{}, map[string]bool{}
	for line := range strings.Lines(code) {
		if rest, ok := strings.CutPrefix(line, "TEXT "); ok {
			symbol, file, _ = strings.Cut(strings.TrimSpace(rest), " ")
			continue
		}
		if !soundCode.MatchString(symbol) || strings.HasSuffix(file, "_test.go") {
			continue
		}
		functions[symbol] = true
		if fused.MatchString(line) {
			found[symbol+" at "+strings.Fields(line)[0]] = true
		}
	}
	for place := range found {
		t.Errorf("%s: a product is fused with a sum: write float64(x*y) + z", place)
	}
	// The search finds what is there: the test binary's own fused product.
	if fusible(2, 3, 4) != 10 || !regexp.MustCompile(`(?s)TEXT \S*\.fusible\(SB\)[^T]*?\tFMADDD\b`).MatchString(code) {
		t.Error("a product that the compiler fuses was not found; the search is blind")
	}
	t.Logf("%d functions of sound code", len(functions))
	if len(functions) < 150 {
		t.Errorf("only %d functions of sound code were looked through", len(functions))
	}
}

// fusible is a product that may be fused.
//
//go:noinline
func fusible(x, y, z float64) float64 { return x*y + z }

// What reference patches and single kinds sound like is written down as digests;
// here their tests run as other processors run them.
func TestOtherProcessorsGiveTheSameBits(t *testing.T) {
	for _, target := range []string{"GOARCH=arm64", "GOARCH=amd64 GOAMD64=v1", "GOARCH=amd64 GOAMD64=v3"} {
		t.Run(target, func(t *testing.T) {
			runner := runnerOf(t, target)
			if runner == "" && !runsHere(target) {
				t.Skip("this processor cannot run that")
			}
			runs(t, runner, testBinary(t, ".", strings.Fields(target)...), "TestTheReferencePatchesSoundAsTheyAlwaysDid", ".")
			runs(t, runner, testBinary(t, "../kind", strings.Fields(target)...), "TestSoundChangesOnlyWithTheVersion", "../kind")
		})
	}
}

// runs runs one test of a test binary in a folder, by an emulator if there is one.
func runs(t *testing.T, runner, binary, test, folder string) {
	t.Helper()
	args := []string{binary, "-test.run", "^" + test + "$", "-test.v"}
	if runner != "" {
		args = slices.Insert(args, 0, runner)
	}
	run := exec.Command(args[0], args[1:]...)
	run.Dir = folder
	out, err := run.CombinedOutput()
	if err != nil || !bytes.Contains(out, []byte("--- PASS")) {
		t.Errorf("%s: %v\n%s", folder, err, out)
	}
}

// runnerOf returns the emulator that a target needs, or "".
func runnerOf(t *testing.T, target string) string {
	if runtime.GOARCH == "arm64" || target != "GOARCH=arm64" {
		return ""
	}
	for _, name := range []string{"qemu-aarch64-static", "qemu-aarch64"} {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	t.Skip("no emulator: to run arm64 code here, install qemu-user-static (Debian; 380 MB)")
	return ""
}

// runsHere tells whether a target's code runs on this processor.
func runsHere(target string) bool {
	if !strings.Contains(target, "GOARCH="+runtime.GOARCH) {
		return false
	}
	if !strings.Contains(target, "v3") {
		return true
	}
	flags, err := os.ReadFile("/proc/cpuinfo")
	return err == nil && bytes.Contains(flags, []byte(" fma ")) && bytes.Contains(flags, []byte(" bmi2 ")) && bytes.Contains(flags, []byte(" avx2 "))
}

// testBinary builds the tests of a package for another processor.
func testBinary(t *testing.T, folder string, env ...string) string {
	t.Helper()
	if testing.Short() {
		t.Skip("builds for another processor")
	}
	file := filepath.Join(t.TempDir(), "engine.test")
	build := exec.Command("go", "test", "-c", "-o", file, folder)
	build.Env = append(os.Environ(), append(env, "CGO_ENABLED=0")...)
	if out, err := build.CombinedOutput(); err != nil {
		t.Fatalf("%v: %v\n%s", env, err, out)
	}
	return file
}

func disassemble(t *testing.T, binary string) string {
	t.Helper()
	out, err := exec.Command("go", "tool", "objdump", "-s", "^lampblack/patch/", binary).Output()
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}
