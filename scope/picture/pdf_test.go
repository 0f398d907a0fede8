package picture

import (
	"bytes"
	"image"
	"image/png"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"lampblack/scope"
)

// everyPicture draws each kind once, mono and stereo, with all that it can have.
func everyPicture() map[string]func(io.Writer, Options) error {
	one := mono(tone(48000, 0.5, 4400))
	two := Sound{[][]float64{tone(48000, 0.5, 4400), tone(48000, 0.3, 6600)}, 48000, 2.5}
	moves := []Move{{Name: "reed / centre", Unit: "Hz", Points: []Point{{0, 300}, {3, 3000}}}, {Name: "level", Unit: "dB", Low: -60, Points: []Point{{0, -20}, {3.2, -40}}}}
	shape := tone(960, 1, 100)
	all := map[string]func(io.Writer, Options) error{
		"xy": func(w io.Writer, o Options) error {
			return XY(w, two.Channels[0][:960], two.Channels[1][:960], "A", "B", o)
		},
		"scope": func(w io.Writer, o Options) error {
			return Scope(w, Oscillogram{A: tone(4800, 0.7, 440), B: tone(4800, 0.3, 150), NameA: "reed / out", NameB: "sway / out", Rate: 48000, First: 100, PerDivision: 0.001, UpB: 0.1, Trigger: "rising through 0 on A", Cursors: []float64{0.002, 0.0055}}, o)
		},
		"levels": func(w io.Writer, o Options) error {
			return LevelsOverTime(w, Levels{"Loudness", "LUFS", 0, 3, -50, -10, []Curve{{"short-term", []Point{{0, -30}, {1, -20}, {3, -26}}}, {"momentary", []Point{{0, -40}, {2, -15}, {3, -33}}}}, []Mark{{"integrated", -22.8}}}, o)
		},
		"modulation": func(w io.Writer, o Options) error {
			return Modulation(w, []Movement{
				{"reed", "centre", "2.10 kHz", []string{"sway +0.80 oct", "swell −0.2 oct"}, "1.21 kHz", "3.66 kHz", "1.94 kHz", "0.31 Hz", shape},
				{"wings", "level", "−6.0 dB", []string{"beat 12 dB"}, "−18.0 dB", "0.0 dB", "−7.4 dB", "23.0 Hz", shape[:200]},
			}, o)
		},
		"difference": func(w io.Writer, o Options) error {
			return Over(w, OverFrequency{
				Name: "B less A", Unit: "dB", Axis: scope.Axis{Low: 20, High: 20000, Logarithmic: true}, Low: -60, High: 60, Zero: true,
				Curves: []Spread{{"B less A", shape, OfBoth}},
			}, o)
		},
		"lines": func(w io.Writer, o Options) error {
			return Over(w, OverFrequency{
				Name: "Spectrum", Unit: "dBFS", Axis: scope.Axis{High: 20000}, Low: -120,
				Curves: []Spread{{"A", shape, OfA}, {"B", shape[300:], OfB}, {"A held", shape[100:], OfBefore}}, Peaks: []scope.Peak{{Hz: 4400, DB: -6}},
			}, o)
		},
		"frames": func(w io.Writer, o Options) error {
			levels := make([][]float32, 300)
			for i := 40; i < len(levels); i++ {
				levels[i] = make([]float32, 200)
				for k := range levels[i] {
					levels[i][k] = -110 + 100*float32(math.Exp(-math.Pow(float64(k)-float64(i)/2, 2)/40))
				}
			}
			return Shades(w, Frames{Levels: levels, From: -10, Axis: scope.Axis{Low: 20, High: 20000, Logarithmic: true}, Depth: 100, Method: "4096 samples, Hann window"}, []Move{{Name: "reed / centre", Unit: "Hz", Points: []Point{{-9, 300}, {-1, 3000}}}}, o)
		},
		"strip": func(w io.Writer, o Options) error {
			var a, b []scope.Column
			for i, v := range shape {
				a, b = append(a, scope.Column{Min: v - 0.1, Max: v + 0.1}), append(b, scope.Column{Min: -v / 2, Max: -v / 2})
				if i < 200 {
					a[i] = scope.Column{Min: math.Inf(1), Max: math.Inf(-1)}
				}
			}
			return Strip(w, Chart{A: a, B: b, NameA: "reed / out", NameB: "sway / out", PerDivision: 1, UpA: 0.5, UpB: 0.25, Cursors: []float64{-6, -2.5}}, o)
		},
		"summary": func(w io.Writer, o Options) error { return Summary(w, someTake(3), one, moves[:1], o) },
		"summary, stereo": func(w io.Writer, o Options) error {
			return Summary(w, someTake(9), two, moves, o)
		},
	}
	for name, s := range map[string]Sound{"": one, ", stereo": two} {
		all["waveform"+name] = func(w io.Writer, o Options) error { return Waveform(w, s, o) }
		all["spectrum"+name] = func(w io.Writer, o Options) error { return Spectrum(w, s, o) }
		all["spectrogram"+name] = func(w io.Writer, o Options) error { return Spectrogram(w, s, moves, o) }
		all["bands"+name] = func(w io.Writer, o Options) error { return Bands(w, s, o) }
		all["envelope"+name] = func(w io.Writer, o Options) error { return Envelope(w, s, o) }
	}
	return all
}

// tool returns the path of a program that checks a picture from outside, or skips.
func tool(t *testing.T, name string) string {
	path, err := exec.LookPath(name)
	if err == nil {
		return path
	}
	if os.Getenv("LAMPBLACK_TOOLS") == "must" {
		t.Fatalf("%s is missing; .ci/need test installs it", name)
	}
	t.Skipf("%s is missing; .ci/need test installs it", name)
	return ""
}

func asPDF(t *testing.T, draw func(io.Writer, Options) error, o Options) (file []byte, path string) {
	t.Helper()
	var b bytes.Buffer
	o.Format = PDF
	if err := draw(&b, o); err != nil {
		t.Fatal(err)
	}
	path = filepath.Join(t.TempDir(), "picture.pdf")
	if err := os.WriteFile(path, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	return b.Bytes(), path
}

// The table at the end of a PDF file tells where every object begins (ISO
// 32000-1:2008, 7.5.4).
func TestPDFTableIsRight(t *testing.T) {
	for name, draw := range everyPicture() {
		file, _ := asPDF(t, draw, Options{Title: "moths (at the lamp)"})
		start := regexp.MustCompile(`startxref\n(\d+)\n%%EOF\n$`).FindSubmatch(file)
		if start == nil {
			t.Fatalf("%s: the file does not end as it should", name)
		}
		at, _ := strconv.Atoi(string(start[1]))
		entries := regexp.MustCompile(`(\d{10}) 00000 n \n`).FindAllSubmatch(file[at:], -1)
		for i, e := range entries {
			begins, _ := strconv.Atoi(string(e[1]))
			if want := strconv.Itoa(i+1) + " 0 obj\n"; !bytes.HasPrefix(file[begins:], []byte(want)) {
				t.Errorf("%s: object %d is not at %d", name, i+1, begins)
			}
		}
		if len(entries) < 8 {
			t.Errorf("%s: only %d objects", name, len(entries))
		}
	}
}

// poppler finds the words as words, the fonts inside, and nothing to complain of.
func TestPDFHasItsWordsAndFonts(t *testing.T) {
	fonts, text := tool(t, "pdffonts"), tool(t, "pdftotext")
	for name, draw := range everyPicture() {
		_, path := asPDF(t, draw, Options{Title: "Grüße — −6 dB"})
		out, err := exec.Command(fonts, path).CombinedOutput()
		lines := strings.Split(strings.TrimSpace(string(out)), "\n")
		if err != nil || len(lines) < 4 || strings.Contains(string(out), "rror") {
			t.Fatalf("%s: %v\n%s", name, err, out)
		}
		for _, l := range lines[2:] {
			if !strings.Contains(l, "Lampblack") || !strings.Contains(l, "yes no  yes") {
				t.Errorf("%s: not embedded, or not readable as text: %s", name, l)
			}
		}
		words, err := exec.Command(text, path, "-").CombinedOutput()
		want := "Grüße — −6 dB"
		if strings.HasPrefix(name, "summary") {
			want = "Moths at the lamp"
		}
		if err != nil || !strings.Contains(string(words), want) || strings.Contains(string(words), "rror") {
			t.Errorf("%s: %v; the words are %q", name, err, words)
		}
	}
}

// poppler draws from the PDF what the PNG shows: 97 of 100 fields of 16 x 16 points
// are as light to a twentieth of the way from black to white. (The hairlines of a
// PNG are moved to whole points, so that single points do differ.)
func TestPDFLooksLikeThePNG(t *testing.T) {
	draws := tool(t, "pdftoppm")
	for name, draw := range everyPicture() {
		o := Options{Width: 800, Height: 600, Title: "moths"}
		_, path := asPDF(t, draw, o)
		out, err := exec.Command(draws, "-r", "96", "-png", path).Output()
		if err != nil {
			t.Fatal(err)
		}
		got, err := png.Decode(bytes.NewReader(out))
		if err != nil {
			t.Fatal(err)
		}
		var file bytes.Buffer
		if err := draw(&file, o); err != nil {
			t.Fatal(err)
		}
		want, err := png.Decode(&file)
		if err != nil || want.Bounds() != got.Bounds() {
			t.Fatalf("%s: %v; %v and %v", name, err, want.Bounds(), got.Bounds())
		}
		off, n := 0, 0
		for y := 0; y+16 <= 600; y += 16 {
			for x := 0; x+16 <= 800; x += 16 {
				n++
				if math.Abs(mean(got, x, y)-mean(want, x, y)) > 12.75 {
					off++
				}
			}
		}
		if off > 3*n/100 {
			t.Errorf("%s: %d of %d fields differ", name, off, n)
		}
	}
}

func mean(i image.Image, x0, y0 int) (sum float64) {
	for y := y0; y < y0+16; y++ {
		for x := x0; x < x0+16; x++ {
			sum += lightness(i.At(x, y)) / 256
		}
	}
	return sum
}
