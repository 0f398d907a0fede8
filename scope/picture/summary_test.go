package picture

import (
	"bytes"
	"fmt"
	"image"
	"image/png"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// someTake is a take of the house's own scenario with n modules.
func someTake(n int) Take {
	t := Take{
		Job: "The Glasshouse", Cue: "1M4 Moths at the lamp", Timecode: "10:02:14:05", Name: "Take 9", From: "1M4/8", Star: true,
		Kept: time.Date(2026, 3, 7, 14, 3, 0, 0, time.UTC),
		Note: "Width down from 310 to 45 Hz: now it has a pitch. The sway bends it by eight tenths of an octave, slower than take 8: the moth should seem heavy. Release 2.4 s, because the tail must outlast the shot by a second.",
		Tags: []string{"wings", "night", "glass"}, Memory: "11 notes, 1 rest, 8.2 s a pass", Proof: "3f9a12bc77de0415aa00", Program: "v0.4.0",
	}
	for i := range n {
		t.Modules = append(t.Modules, Module{fmt.Sprintf("reed %d", i+1), "filter", []Line{
			{"centre", "2.10 kHz", false}, {"centre ← sway", "+0.80 oct", true}, {"width", "45 Hz", false}, {"in ← dust", "", true},
		}})
	}
	return t
}

func TestTheSummarySaysWhatTheTakeIs(t *testing.T) {
	for _, size := range [][2]int{{0, 0}, {1240, 1754}, {1600, 1000}, {3840, 2160}} {
		s := asSVG(t, func(w io.Writer, o Options) error {
			return Summary(w, someTake(4), mono(tone(96000, 0.5, 440)), nil, o)
		}, Options{Width: size[0], Height: size[1]})
		for _, want := range []string{
			"The Glasshouse", "1M4 Moths at the lamp", "10:02:14:05", "Take 9", "from 1M4/8", "★", "kept 7 March 2026, 14:03 UTC",
			"Width down from 310", "wings  ·  night  ·  glass", "11 notes, 1 rest, 8.2 s a pass", "SHA-256 3f9a 12bc 77de 0415 …",
			"reed 4", "+0.80 oct", "centre ← sway", "2 s   48 kHz mono   peak −6.0   rms −9.0 dBFS", "440.0 Hz",
			"Waveform", "Spectrogram", "Envelope", "Spectrum", "lampblack v0.4.0",
		} {
			if !s.says(want) {
				t.Errorf("%v: it lacks %q", size, want)
			}
		}
	}
}

// What moves stands on the page with its range, rate and cords; rows for which
// there is no room are counted, and the pictures keep their own.
func TestTheSummaryTellsWhatMoves(t *testing.T) {
	for _, c := range []struct{ rows, width, height int }{{1, 0, 0}, {3, 1600, 1000}, {40, 0, 0}, {40, 3840, 2160}} {
		take := someTake(3)
		for i := range c.rows {
			take.Moving = append(take.Moving, Movement{
				Module: fmt.Sprintf("sway %d", i+1), Control: "centre", Setting: "2.10 kHz", Cords: []string{"slow -0.8 oct"},
				Lowest: "1.21 kHz", Highest: "3.66 kHz", Now: "1.94 kHz", Rate: "0.31 Hz", Shape: []float64{0, 1, 0.5},
			})
		}
		s := asSVG(t, func(w io.Writer, o Options) error { return Summary(w, take, mono(tone(9600, 0.5, 440)), nil, o) }, Options{Width: c.width, Height: c.height})
		for _, want := range []string{"Modulation", "sway 1", "slow \u22120.8 oct", "1.21 kHz", "3.66 kHz", "0.31 Hz", "at the end", "Waveform", "Spectrogram", "Envelope", "Spectrum"} {
			if !s.says(want) {
				t.Errorf("%v: it lacks %q", c, want)
			}
		}
		shown := 0
		for _, text := range s.texts {
			if strings.HasPrefix(text, "sway ") {
				shown++
			}
		}
		left := fmt.Sprintf("%d more move; there is no room for them here", c.rows-shown)
		if told := s.says(left); told != (shown < c.rows) || shown < min(c.rows, 2) {
			t.Errorf("%v: %d are shown, the rest told: %v", c, shown, told)
		}
	}
}

func TestSettingsThatDoNotFitAreCounted(t *testing.T) {
	s := asSVG(t, func(w io.Writer, o Options) error {
		return Summary(w, someTake(300), mono(tone(4800, 0.5, 440)), nil, o)
	}, Options{})
	modules := 0
	for _, text := range s.texts {
		if strings.HasPrefix(text, "reed ") {
			modules++
		}
	}
	if want := fmt.Sprintf("%d lines more do not fit on this page", 5*(300-modules)); !s.says(want) || modules < 20 {
		t.Errorf("%d modules are shown, and nothing says %q", modules, want)
	}
}

func TestNoLineEndsBetweenANumberAndItsUnit(t *testing.T) {
	p, err := newPage(Options{}, 800, 600)
	if err != nil {
		t.Fatal(err)
	}
	note := "A shed of 22 ms and 1.6 s around it, 18 ms away, 80 % wet, 13.8 cents either side, 3 sheds."
	for width := 20.0; width < 400; width += 3 {
		lines := p.wrap(text, 10, note, p.pt(width), 100)
		for i, l := range lines[1:] {
			for _, unit := range []string{"ms", "s ", "%", "cents"} {
				if strings.HasPrefix(l, unit) && width > 60 {
					t.Errorf("at %g points a line begins with %q after %q", width, l, lines[i])
				}
			}
		}
		if width > 100 && strings.Join(lines, " ") != note {
			t.Errorf("at %g points the lines are %q", width, lines)
		}
	}
}

// No entry is lost between columns, and a module is whole where it can be.
func TestColumnsHoldEveryEntry(t *testing.T) {
	all := entries(someTake(7))
	for lines := 1; lines < 40; lines++ {
		n := 0
		for i, column := range flow(all, lines) {
			for k, e := range column {
				if fmt.Sprint(e) != fmt.Sprint(all[n]) {
					t.Fatalf("%d lines: column %d, entry %d is %v, want %v", lines, i, k, e, all[n])
				}
				n++
			}
			if lines >= 5 && column[0].module == "" {
				t.Errorf("%d lines: column %d begins within a module", lines, i)
			}
		}
		if n != len(all) {
			t.Errorf("%d lines: %d of %d entries", lines, n, len(all))
		}
	}
}

// Pictures of words and lines alone are the same on every processor but for a
// little at the edges: they are held to what was looked at and found good.
func TestGoldenPictures(t *testing.T) {
	for name, draw := range everyPicture() {
		if name != "scope" && name != "modulation" && name != "levels" && name != "summary" && name != "difference" && name != "strip" {
			continue
		}
		for _, ink := range []*Ink{&Soot, &Paper} {
			o := Options{Ink: ink, Width: 800, Height: 500, Title: "1M4 Moths at the lamp", Aside: "The Glasshouse"}
			if name == "summary" {
				o.Width, o.Height = 620, 877
			}
			var file bytes.Buffer
			if err := draw(&file, o); err != nil {
				t.Fatal(err)
			}
			golden(t, name+"-"+ink.Name+".png", file.Bytes())
		}
	}
}

// golden compares a picture with testdata/name; one that differs is left in
// testdata/failed, from where it can be moved once it was looked at.
func golden(t *testing.T, name string, file []byte) {
	t.Helper()
	failed := filepath.Join("testdata", "failed", name)
	got, err := png.Decode(bytes.NewReader(file))
	if err != nil {
		t.Fatal(err)
	}
	off := "there is none yet"
	if known, err := os.ReadFile(filepath.Join("testdata", name)); err == nil {
		want, err := png.Decode(bytes.NewReader(known))
		if err != nil {
			t.Fatal(err)
		}
		if off = differ(got, want); off == "" {
			return
		}
	}
	if err := os.MkdirAll(filepath.Dir(failed), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(failed, file, 0o644); err != nil {
		t.Fatal(err)
	}
	t.Errorf("%s: %s; see %s", name, off, failed)
}

func differ(a, b image.Image) string {
	if a.Bounds() != b.Bounds() {
		return fmt.Sprintf("it is %v large, not %v", a.Bounds().Size(), b.Bounds().Size())
	}
	n := 0
	for y := range a.Bounds().Dy() {
		for x := range a.Bounds().Dx() {
			if d := lightness(a.At(x, y)) - lightness(b.At(x, y)); d > 6 || d < -6 {
				n++
			}
		}
	}
	if n == 0 {
		return ""
	}
	return fmt.Sprintf("it differs in %d points", n)
}

// libxml2's own reader finds nothing to complain of, whatever the words are.
func TestSVGIsXML(t *testing.T) {
	lint := tool(t, "xmllint")
	for name, draw := range everyPicture() {
		s := asSVG(t, draw, Options{Title: "a < b & \"c\" \x01\x7f\xff ]]> Щ", Aside: "<&>"})
		cmd := exec.Command(lint, "--noout", "--nonet", "-")
		cmd.Stdin = bytes.NewReader(s.bytes)
		if out, err := cmd.CombinedOutput(); err != nil || len(out) > 0 {
			t.Errorf("%s: %v: %s", name, err, out)
		}
		if !strings.HasPrefix(name, "summary") && (!s.says("Щ") || !bytes.Contains(s.bytes, []byte("Liberation"))) {
			t.Errorf("%s: a letter that the house's fonts lack is not set in another: %q", name, s.texts)
		}
	}
}

func BenchmarkSummary(b *testing.B) {
	samples := noise(10 * 48000)
	for _, c := range []struct {
		name string
		o    Options
	}{
		{"A4 at 150 dpi", Options{}}, {"3840 x 2160", Options{Width: 3840, Height: 2160}},
		{"SVG", Options{Format: SVG}}, {"PDF", Options{Format: PDF}},
	} {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				if err := Summary(io.Discard, someTake(8), Sound{[][]float64{samples, samples}, 48000, 0}, nil, c.o); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
