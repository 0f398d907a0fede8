package engine

import (
	"math"
	"os/exec"
	"path/filepath"
	"testing"
	"time"
)

// BenchmarkAgainstSox tells how much faster the whole program writes ten minutes of
// hiss-fixed than a general audio tool writes a sound of the same make: noise
// through a band-pass, a tremolo, a fade. Of both the shortest time and the shortest
// processor time (all threads, start of the program and all) of the rounds count;
// where the machine is busy only the second tells something.
func BenchmarkAgainstSox(b *testing.B) {
	sox, err := exec.LookPath("sox")
	if err != nil {
		b.Skip("sox is not installed")
	}
	room := b.TempDir()
	program := filepath.Join(room, "program")
	if out, err := exec.Command("go", "build", "-o", program, "lampblack").CombinedOutput(); err != nil {
		b.Fatalf("%v\n%s", err, out)
	}
	ours := []string{program, "render", "../../assets/patches/hiss-fixed.json", "--seconds", "600", "--bits", "16", "--force", "-o", filepath.Join(room, "ours.wav")}
	theirs := []string{sox, "-r", "48000", "-b", "16", "-n", filepath.Join(room, "theirs.wav"), "synth", "600", "whitenoise", "band", "1000", "50", "tremolo", "25", "80", "fade", "0.5"}
	wall, busy := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(1), math.Inf(1)}
	for b.Loop() {
		for i, args := range [][]string{ours, theirs} {
			run := exec.Command(args[0], args[1:]...)
			begun := time.Now()
			if out, err := run.CombinedOutput(); err != nil {
				b.Fatalf("%v\n%s", err, out)
			}
			wall[i] = min(wall[i], time.Since(begun).Seconds())
			busy[i] = min(busy[i], (run.ProcessState.UserTime() + run.ProcessState.SystemTime()).Seconds())
		}
	}
	b.ReportMetric(wall[0], "s")
	b.ReportMetric(wall[1], "sox-s")
	b.ReportMetric(wall[1]/wall[0], "times-as-fast")
	b.ReportMetric(busy[0], "cpu-s")
	b.ReportMetric(busy[1], "sox-cpu-s")
	b.ReportMetric(busy[1]/busy[0], "cpu-sox/ours")
}
