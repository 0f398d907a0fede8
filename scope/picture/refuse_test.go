package picture

import (
	"bytes"
	"errors"
	"image/png"
	"io"
	"math"
	"strings"
	"testing"
)

type full struct{}

var errFull = errors.New("no space left on device")

func (full) Write([]byte) (int, error) { return 0, errFull }

func TestWhatCannotBeDrawnIsRefused(t *testing.T) {
	good := mono(tone(100, 1, 440))
	broken := func(x float64) Sound { return mono([]float64{0, 0.5, x, 0}) }
	d := io.Discard
	for name, err := range map[string]error{
		"no channel":           Waveform(d, Sound{Rate: 48000}, Options{}),
		"no samples":           Spectrum(d, Sound{[][]float64{{}}, 48000, 0}, Options{}),
		"unequal":              Waveform(d, Sound{[][]float64{{0}, {0, 0}}, 48000, 0}, Options{}),
		"no rate":              Waveform(d, Sound{good.Channels, 0, 0}, Options{}),
		"a rate of 50":         Spectrogram(d, Sound{good.Channels, 50, 0}, nil, Options{}),
		"no number":            Envelope(d, broken(math.NaN()), Options{}),
		"no end":               Bands(d, broken(math.Inf(-1)), Options{}),
		"1e300":                Summary(d, Take{}, broken(1e300), nil, Options{}),
		"no beginning":         Waveform(d, Sound{good.Channels, 48000, math.NaN()}, Options{}),
		"10 pixels":            Waveform(d, good, Options{Width: 10}),
		"a million":            Waveform(d, good, Options{Height: 1000000}),
		"no division":          Scope(d, Oscillogram{A: []float64{0}, Rate: 48000}, Options{}),
		"no probe":             Scope(d, Oscillogram{Rate: 48000, PerDivision: 1}, Options{}),
		"three cursors":        Scope(d, Oscillogram{A: []float64{0}, Rate: 48000, PerDivision: 1, Cursors: make([]float64, 3)}, Options{}),
		"X without Y":          XY(d, []float64{0, 1}, []float64{0}, "", "", Options{}),
		"time stands still":    LevelsOverTime(d, Levels{}, Options{}),
		"levels upside down":   LevelsOverTime(d, Levels{To: 1, Low: 0, High: -10}, Options{}),
		"five curves":          LevelsOverTime(d, Levels{To: 1, Curves: make([]Curve, 5)}, Options{}),
		"a thousand movements": Modulation(d, make([]Movement, 1000), Options{}),
		"full disk, PNG":       Waveform(full{}, good, Options{}),
		"full disk, SVG":       Spectrum(full{}, good, Options{Format: SVG}),
		"full disk, PDF":       Summary(full{}, Take{}, good, nil, Options{Format: PDF}),
	} {
		if err == nil || strings.HasPrefix(name, "full") && !errors.Is(err, errFull) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// Whatever the sound and the size are, a picture comes of it: of one sample, of
// silence, of what is far over full scale.
func TestEverySoundAndSizeIsDrawn(t *testing.T) {
	sounds := map[string]Sound{
		"one sample": mono([]float64{0.5}), "two": mono([]float64{0, -1}), "three": mono([]float64{0, 1, 0}),
		"silence": mono(make([]float64, 5000)), "loud": mono(tone(5000, 1e5, 440)), "100 Hz rate": {[][]float64{tone(300, 1, 440)}, 100, -7},
	}
	for what, s := range sounds {
		for name, draw := range map[string]func(io.Writer, Options) error{
			"waveform":    func(w io.Writer, o Options) error { return Waveform(w, s, o) },
			"spectrum":    func(w io.Writer, o Options) error { return Spectrum(w, s, o) },
			"spectrogram": func(w io.Writer, o Options) error { return Spectrogram(w, s, []Move{{Unit: "Hz"}}, o) },
			"bands":       func(w io.Writer, o Options) error { return Bands(w, s, o) },
			"envelope":    func(w io.Writer, o Options) error { return Envelope(w, s, o) },
			"summary":     func(w io.Writer, o Options) error { return Summary(w, Take{}, s, nil, o) },
		} {
			for _, f := range []Format{PNG, SVG, PDF} {
				var file bytes.Buffer
				if err := draw(&file, Options{Format: f, Width: 400, Height: 300}); err != nil || bytes.Contains(file.Bytes(), []byte("NaN")) {
					t.Errorf("%s of %s: %v, or a place that is no number", name, what, err)
				}
			}
		}
	}
	for name, draw := range everyPicture() {
		for _, size := range [][2]int{{200, 200}, {2500, 200}, {200, 1500}} {
			var file bytes.Buffer
			if err := draw(&file, Options{Width: size[0], Height: size[1]}); err != nil {
				if strings.HasPrefix(name, "modulation") && size[1] == 200 {
					continue // its rows do not fit, and it says so
				}
				t.Errorf("%s at %v: %v", name, size, err)
				continue
			}
			if c, err := png.DecodeConfig(&file); err != nil || c.Width != size[0] || c.Height != size[1] {
				t.Errorf("%s: %v, want %v (%v)", name, c, size, err)
			}
		}
	}
}

func TestTheSameSoundGivesTheSameFile(t *testing.T) {
	for name, draw := range everyPicture() {
		for _, f := range []Format{PNG, SVG, PDF} {
			var a, b bytes.Buffer
			if err := errors.Join(draw(&a, Options{Format: f, Width: 500, Height: 400}), draw(&b, Options{Format: f, Width: 500, Height: 400})); err != nil {
				t.Fatal(err)
			}
			if !bytes.Equal(a.Bytes(), b.Bytes()) {
				t.Errorf("%s, format %d: two files of the same picture differ", name, f)
			}
		}
	}
}
