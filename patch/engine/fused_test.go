package engine

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"lampblack/patch/kind/rig"
)

// fusedLoop builds testdata/fused, the reference patches as one C loop each.
func fusedLoop(t testing.TB) string {
	t.Helper()
	cc, err := exec.LookPath("gcc")
	if err != nil {
		if os.Getenv("LAMPBLACK_TOOLS") == "must" {
			t.Fatal(err)
		}
		t.Skip("gcc is not installed")
	}
	file := filepath.Join(t.TempDir(), "fused")
	build := exec.Command(cc, "-O3", "-march=native", "-Wall", "-Wextra", "-Werror", "-o", file, "testdata/fused/fused.c", "-lm")
	if out, err := build.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	return file
}

// The C loop computes the same sound by the C library's sine, tangent and power:
// so the comparison of speeds is fair, and our own polynomials are held to it.
func TestAPlainLoopInCSoundsTheSame(t *testing.T) {
	fused := fusedLoop(t)
	for _, name := range references {
		want := render(t, reference(t, name), noMemory, RenderOptions{Seconds: 3, Kinds: defaultKinds}).Left
		out, err := exec.Command(fused, name, fmt.Sprint(len(want)), "-").Output()
		if err != nil {
			t.Fatal(err)
		}
		got := make([]float64, len(want))
		if err := binary.Read(bytes.NewReader(out), binary.LittleEndian, got); err != nil {
			t.Fatal(err)
		}
		most, where := 0.0, 0
		for i := range want {
			if d := math.Abs(got[i] - want[i]); d > most {
				most, where = d, i
			}
		}
		t.Logf("%s: largest difference %.1e (%.0f dB), at sample %d", name, most, 20*math.Log10(most), where)
		if !(most < 1e-9) {
			t.Errorf("%s: the C loop differs by %.1e at sample %d; want below 1e-9 (-180 dB)", name, most, where)
		}
	}
}

// BenchmarkAgainstC tells how much longer the engine takes for a reference patch
// than a fused C loop of the same arithmetic (gcc -O3 -march=native, libm): both
// in turn, the shortest processor time of each.
func BenchmarkAgainstC(b *testing.B) {
	fused := fusedLoop(b)
	const samples = 1 << 20
	for _, name := range references {
		b.Run(name, func(b *testing.B) {
			left, right := make([]float64, 512), make([]float64, 512)
			ours, theirs := math.Inf(1), math.Inf(1)
			for b.Loop() {
				e := New(testRate)
				e.Swap(compileKind(b, reference(b, name)))
				e.NoteOn(0, 1)
				ours = min(ours, float64(rig.Taken(func() {
					for range samples / len(left) {
						e.Block(left, right)
					}
				}).Nanoseconds())/samples)
				theirs = min(theirs, loopInC(b, fused, name, samples))
			}
			b.ReportMetric(ours, "ns/sample")
			b.ReportMetric(theirs, "C-ns/sample")
			b.ReportMetric(ours/theirs, "ours/C")
		})
	}
}

func loopInC(b *testing.B, fused, name string, samples int) float64 {
	b.Helper()
	out, err := exec.Command(fused, name, strconv.Itoa(samples)).Output()
	if err != nil {
		b.Fatal(err)
	}
	ns, err := strconv.ParseFloat(strings.TrimSpace(string(out)), 64)
	if err != nil {
		b.Fatal(err)
	}
	return ns
}
