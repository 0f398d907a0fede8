package picture

import (
	"bytes"
	"encoding/xml"
	"errors"
	"image"
	"image/color"
	"image/png"
	"io"
	"math"
	"strings"
	"testing"
)

func tone(n int, amplitude, hz float64) []float64 {
	s := make([]float64, n)
	for i := range s {
		s[i] = amplitude * math.Sin(2*math.Pi*hz*float64(i)/48000)
	}
	return s
}

func drawn(t *testing.T, what func(io.Writer, [][]float64, int, Options) error, channels [][]float64, o Options) image.Image {
	t.Helper()
	var file bytes.Buffer
	if err := what(&file, channels, 48000, o); err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(&file)
	if err != nil {
		t.Fatal(err)
	}
	return img
}

// extent returns the smallest box that holds all pixels near a colour.
func extent(img image.Image, c color.Color) image.Rectangle {
	var box image.Rectangle
	r0, g0, b0, _ := c.RGBA()
	b := img.Bounds()
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			r, g, bl, _ := img.At(x, y).RGBA()
			if away(r, r0)+away(g, g0)+away(bl, b0) < 0x4000 {
				box = box.Union(image.Rect(x, y, x+1, y+1))
			}
		}
	}
	return box
}

func away(a, b uint32) int {
	return int(math.Abs(float64(a) - float64(b)))
}

// top returns the place of the highest pixel of the trace, a line of a
// spectrum: its column (the middle of the topmost row) and its row.
func top(t *testing.T, img image.Image, c color.Color) (x, y float64) {
	t.Helper()
	box := extent(img, c)
	if box.Empty() {
		t.Fatal("no trace is drawn")
	}
	row := extent(img.(interface {
		SubImage(image.Rectangle) image.Image
	}).SubImage(image.Rect(0, box.Min.Y, img.Bounds().Max.X, box.Min.Y+2)), c)
	return float64(row.Min.X+row.Max.X-1) / 2, float64(box.Min.Y)
}

// On a logarithmic axis equal ratios are equally far apart, and 20 dB are 20 dB
// wherever they stand: lines of known frequency and level must lie so, to a
// pixel.
func TestSpectrumLinesStandWhereTheyBelong(t *testing.T) {
	for _, ink := range []Ink{Soot, Paper} {
		place := func(amplitude, hz float64) (float64, float64) {
			return top(t, drawn(t, Spectrum, [][]float64{tone(48000, amplitude, hz)}, Options{Ink: &ink}), ink.Left)
		}
		x100, y0 := place(1, 100)
		x1k, y1k := place(1, 1000)
		x10k, y20 := place(0.1, 10000)
		_, y40 := place(0.01, 1000)
		if math.Abs((x100+x10k)/2-x1k) > 1.5 || x10k-x100 < 500 {
			t.Errorf("100, 1000 and 10,000 Hz stand at %g, %g and %g; the second must be in the middle", x100, x1k, x10k)
		}
		if math.Abs(y1k-y0) > 1 || math.Abs((y0+y40)/2-y20) > 1 || y40-y0 < 50 {
			t.Errorf("0, -20 and -40 dBFS stand at rows %g, %g and %g; the second must be in the middle", y0, y20, y40)
		}
	}
}

// A square of half of full scale spans half of the ruled height; a burst in the
// last quarter stands there.
func TestWaveformStandsWhereItBelongs(t *testing.T) {
	burst := func(amplitude float64) image.Rectangle {
		samples := make([]float64, 48000)
		for i := 36000; i < len(samples); i++ {
			samples[i] = math.Copysign(amplitude, math.Sin(float64(i)/3))
		}
		return extent(drawn(t, Waveform, [][]float64{samples}, Options{Ink: &Soot}), Soot.Left)
	}
	full, half := burst(1), burst(0.5)
	if ratio := float64(half.Dy()) / float64(full.Dy()); math.Abs(ratio-0.5) > 0.01 {
		t.Errorf("half of full scale is %.3f of its height", ratio)
	}
	loud := extent(drawn(t, Waveform, [][]float64{{0, 0, 0, 0, 1, 1, -1, -1}}, Options{Ink: &Soot}), Soot.Left)
	if loud.Dx() < 1000 {
		t.Errorf("eight samples are drawn %d pixels wide", loud.Dx())
	}
}

func TestTwoChannelsAreBothDrawn(t *testing.T) {
	channels := [][]float64{tone(4800, 0.5, 440), tone(4800, 0.5, 880)}
	for name, what := range map[string]func(io.Writer, [][]float64, int, Options) error{"waveform": Waveform, "spectrum": Spectrum} {
		img := drawn(t, what, channels, Options{Width: 900, Height: 500})
		left, right := extent(img, Paper.Left), extent(img, Paper.Right)
		if left.Empty() || right.Empty() || img.Bounds().Dx() != 900 || img.Bounds().Dy() != 500 {
			t.Errorf("%s: left in %v, right in %v of %v", name, left, right, img.Bounds())
		}
		if name == "waveform" && right.Min.Y < left.Max.Y {
			t.Errorf("left reaches down to %d, right begins at %d", left.Max.Y, right.Min.Y)
		}
	}
}

func TestSVGIsWholeAndHasItsWords(t *testing.T) {
	for name, what := range map[string]func(io.Writer, [][]float64, int, Options) error{"time, s": Waveform, "dBFS": Spectrum} {
		var file bytes.Buffer
		if err := what(&file, [][]float64{tone(4800, 0.5, 440)}, 48000, Options{Format: SVG, Title: "moths at the lamp"}); err != nil {
			t.Fatal(err)
		}
		svg := file.String()
		for _, want := range []string{name, "moths at the lamp", "\u2212"} {
			if !strings.Contains(svg, want) {
				t.Errorf("the picture with %q lacks %q", name, want)
			}
		}
		for d := xml.NewDecoder(&file); ; {
			if _, err := d.Token(); errors.Is(err, io.EOF) {
				break
			} else if err != nil {
				t.Fatal(err)
			}
		}
	}
}

type full struct{}

var errFull = errors.New("no space left on device")

func (full) Write([]byte) (int, error) { return 0, errFull }

func TestWhatCannotBeDrawnIsRefused(t *testing.T) {
	good := [][]float64{tone(100, 1, 440)}
	for name, err := range map[string]error{
		"no channel":     Waveform(io.Discard, nil, 48000, Options{}),
		"no samples":     Spectrum(io.Discard, [][]float64{{}}, 48000, Options{}),
		"unequal":        Waveform(io.Discard, [][]float64{{0}, {0, 0}}, 48000, Options{}),
		"no rate":        Waveform(io.Discard, good, 0, Options{}),
		"a rate of 50":   Spectrum(io.Discard, good, 50, Options{}),
		"10 pixels":      Waveform(io.Discard, good, 48000, Options{Width: 10}),
		"a million":      Waveform(io.Discard, good, 48000, Options{Height: 1000000}),
		"not a font":     Waveform(io.Discard, good, 48000, Options{Font: []byte("no")}),
		"full disk, PNG": Waveform(full{}, good, 48000, Options{}),
		"full disk, SVG": Spectrum(full{}, good, 48000, Options{Format: SVG}),
	} {
		if err == nil || strings.HasPrefix(name, "full") && !errors.Is(err, errFull) {
			t.Errorf("%s: %v", name, err)
		}
	}
	for _, n := range []int{1, 2, 3} {
		if err := Waveform(io.Discard, [][]float64{make([]float64, n)}, 48000, Options{}); err != nil {
			t.Errorf("%d samples: %v", n, err)
		}
		if err := Spectrum(io.Discard, [][]float64{make([]float64, n)}, 48000, Options{}); err != nil {
			t.Errorf("%d samples: %v", n, err)
		}
	}
}

func TestMarksHaveRoundNumbers(t *testing.T) {
	for _, test := range []struct {
		low, high float64
		n         evenly
		want      string
	}{
		{-1, 1, 4, "\u22121.0 \u22120.5 0.0 0.5 1.0"},
		{-120, 0, 6, "\u2212120 \u2212100 \u221280 \u221260 \u221240 \u221220 0"},
		{0, 3.4, 8, "0.0 0.5 1.0 1.5 2.0 2.5 3.0"},
		{0, 0.001, 8, "0.0000 0.0002 0.0004 0.0006 0.0008 0.0010"},
	} {
		var got []string
		for _, tick := range test.n.Ticks(test.low, test.high) {
			got = append(got, tick.Label)
		}
		if strings.Join(got, " ") != test.want {
			t.Errorf("%g to %g: %s; want %s", test.low, test.high, strings.Join(got, " "), test.want)
		}
	}
}
