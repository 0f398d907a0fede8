package app

import (
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"lampblack/app/timing"
	"lampblack/patch"
)

// sceneSeconds is how long each scene plays: with LAMPBLACK_LONG=1 for more than
// ten thousand blocks of sound, of which one may be late.
func sceneSeconds() time.Duration {
	if os.Getenv("LAMPBLACK_LONG") == "1" {
		return 60
	}
	return 10
}

// BenchmarkRealWindow measures the program in its window of 1440 by 900 under
// Xvfb, drawn without a graphics processor, while it plays a patch of 27 cords:
// with the sheet, on which each cord shows its trace, and with the spectrogram in
// its place; scope, spectrum and meters stand beside both. It prints the frames a
// second (as the median of the times between them says, and as their 99th
// percentile says), how many blocks of 256 samples were there within their
// 5.33 ms, and the histograms. What else the machine does counts as well: the load
// at the end is printed too. LAMPBLACK_TIMINGS=folder keeps the program's reports.
func BenchmarkRealWindow(b *testing.B) {
	if testing.Short() {
		b.Skip("plays in a real window for twenty seconds")
	}
	needTools(b, "Xvfb", "xdotool", "import")
	for _, scene := range []struct {
		name string
		keys []string
	}{
		{"sheet", nil},
		{"spectrogram", []string{"F3", "F3", "F3"}},
	} {
		b.Run(scene.name, func(b *testing.B) {
			d := newDisplay(b, 1440, 900)
			book := d.walls()
			for range b.N {
				r := d.scene(book, scene.name, scene.keys)
				b.ReportMetric(r.Frames.Median, "frames/s")
				b.ReportMetric(r.Frames.P99, "frames/s-p99")
				b.ReportMetric(r.Sound.Kept, "%-kept")
				b.ReportMetric(r.Sound.Ready.Longest, "ms-worst-block")
				b.ReportMetric(r.Beats.Median, "ms-own-work/frame")
				b.Logf("%s, load %s\n%s", scene.name, load(), described(r))
			}
		})
	}
}

// walls makes a notebook with one take whose cords are all to be traced.
func (d *display) walls() (book string) {
	d.t.Helper()
	file, err := os.ReadFile("testdata/walls.json")
	if err != nil {
		d.t.Fatal(err)
	}
	p, err := patch.Read(file)
	if err != nil || len(p.Cords) < 20 {
		d.t.Fatalf("the patch has %d cords, and is to have 20 at least (%v)", len(p.Cords), err)
	}
	book = filepath.Join(d.t.TempDir(), "speed.lampblack")
	out, err := exec.Command(d.program, "take", "keep", "testdata/walls.json", "--memory", "testdata/walls-memory.json",
		"--job", "Speed", "--cue", "1 Every wall", "--make", "--seconds", "2", "--note", "How fast is it?", "--notebook", book).CombinedOutput()
	if err != nil {
		d.t.Fatalf("%v\n%s", err, out)
	}
	return book
}

// scene plays the take in a window, and returns what the program counted.
func (d *display) scene(book, name string, keys []string) timing.Report {
	d.t.Helper()
	file := filepath.Join(d.t.TempDir(), "timings.json")
	w := d.open(book, "--timings", file)
	d.await("the take on the bench", func() bool { return d.draft(book) != "" })
	d.keys(keys...)
	time.Sleep(2 * time.Second) // what opens the window is not what plays
	d.keys("space")
	time.Sleep(sceneSeconds() * time.Second)
	d.picture(name)
	d.keys("space")
	d.quit(w)
	text, err := os.ReadFile(file)
	if err != nil {
		d.t.Fatal(err)
	}
	if folder := os.Getenv("LAMPBLACK_TIMINGS"); folder != "" {
		if err := os.WriteFile(filepath.Join(folder, name+".json"), text, 0o644); err != nil {
			d.t.Fatal(err)
		}
	}
	var r timing.Report
	if err := json.Unmarshal(text, &r); err != nil {
		d.t.Fatal(err)
	}
	if r.Seconds < float64(sceneSeconds()-1) || r.Frames.Count == 0 || r.Sound.Ready.Count == 0 {
		d.t.Fatalf("it did not play: %g s, %d frames, %d blocks", r.Seconds, r.Frames.Count, r.Sound.Ready.Count)
	}
	return r
}

// described is a report in the few lines that a benchmark may print.
func described(r timing.Report) string {
	var s strings.Builder
	line := func(name string, f timing.Figures) {
		fmt.Fprintf(&s, "%-10s median %6.2f ms, p99 %6.2f ms, longest %6.2f ms, %d counted\n", name, f.Median, f.P99, f.Longest, f.Count)
	}
	line("frames", r.Frames.Figures)
	s.WriteString("          " + coarse(r.Frames.Bins, 17, 20, 25, 34, 50, 100) + "\n")
	line("painting", r.Painting)
	line("own work", r.Beats)
	s.WriteString("          of which in the mean")
	for _, p := range r.Parts {
		if p.Mean >= 0.02 {
			fmt.Fprintf(&s, " %s %.2f", p.Part, p.Mean)
		}
	}
	s.WriteString("\n")
	line("ready", r.Sound.Ready)
	s.WriteString("          " + coarse(r.Sound.Ready.Bins, 0.5, 1, 2, r.Sound.Deadline, 10, 20) + "\n")
	fmt.Fprintf(&s, "sound     from %s: %d of %d blocks late, %.3f %% kept the deadline of %g ms", r.Sound.From, r.Sound.Late, r.Sound.Ready.Count, r.Sound.Kept, r.Sound.Deadline)
	return s.String()
}

// coarse is a histogram of few bins, by their upper edges in ms.
func coarse(bins []timing.Bin, edges ...float64) string {
	counts, all := make([]float64, len(edges)+1), 0.0
	for _, bin := range bins {
		at := 0
		for at < len(edges) && bin[0] >= edges[at] {
			at++
		}
		counts[at] += bin[1]
		all += bin[1]
	}
	var parts []string
	for i, n := range counts {
		switch {
		case n == 0:
		case i == len(edges):
			parts = append(parts, fmt.Sprintf("longer: %.2f %%", 100*n/all))
		default:
			parts = append(parts, fmt.Sprintf("up to %g ms: %.2f %%", edges[i], 100*n/all))
		}
	}
	return strings.Join(parts, ", ")
}

// load is what else the machine had to do: the processes that wanted to run, over
// the last minute.
func load() string {
	text, err := os.ReadFile("/proc/loadavg")
	if err != nil {
		return "unknown"
	}
	one, _, _ := strings.Cut(string(text), " ")
	return one
}
