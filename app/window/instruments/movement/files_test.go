package movement

import (
	"bytes"
	"encoding/csv"
	"image/png"
	"math"
	"strconv"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"lampblack/app/desk"
	"lampblack/app/window/plate"
)

func (g *page) writes(setting, name string) []byte {
	g.t.Helper()
	for _, f := range g.plate.Files() {
		if f.Setting == setting {
			var file bytes.Buffer
			if err := f.To(&file, name); err != nil {
				g.t.Fatal(err)
			}
			return file.Bytes()
		}
	}
	g.t.Fatalf("there is no file %q", setting)
	return nil
}

// The figures are those of the arithmetic: 1 kHz, an octave, 6 Hz.
func TestTheNumbersOfEveryRowAreWritten(t *testing.T) {
	g := open(t, "soot", "slow", "filter")
	g.sets("slow", "rate", "6 Hz")
	g.sets("filter", "cutoff", "1 kHz")
	g.joins("slow/out", "filter/cutoff", "1 oct")
	g.joins("slow/out", "filter/peak", "-30 dB")
	g.opens(3)
	lines, err := csv.NewReader(bytes.NewReader(g.writes("numbers", "modulation.csv"))).ReadAll()
	if err != nil || len(lines) != 3 {
		t.Fatalf("%d lines, %v", len(lines), err)
	}
	row := map[string]string{}
	for i, head := range lines[0] {
		row[head] = lines[1][i]
	}
	for head, want := range map[string]float64{"setting": 1000, "lowest": 500, "highest": 2000, "rate (Hz)": 6} {
		if got, err := strconv.ParseFloat(row[head], 64); err != nil || math.Abs(got/want-1) > 1e-3 {
			t.Errorf("%s is %q, want %g", head, row[head], want)
		}
	}
	if row["cords"] != "slow +1 oct" || row["unit"] != "Hz" || row["clamped"] != "" {
		t.Errorf("%v", row)
	}
	if last := lines[2][len(lines[2])-1]; last != "both its ends" { // ±30 dB on a scale of ±24 dB
		t.Errorf("the peak was clamped at %q", last)
	}
}

func TestThePageIsPrinted(t *testing.T) {
	g := many(t, "paper") // 40 rows
	g.opens(1)
	picture, err := png.Decode(bytes.NewReader(g.writes("picture", "modulation.png")))
	if err != nil || picture.Bounds().Dy() < 1500 {
		t.Fatalf("of 40 rows a picture %v: %v", picture.Bounds(), err)
	}
	if svg := g.writes("picture", "page.svg"); strings.Count(string(svg), "boost") != 10 {
		t.Error("the SVG has not every row")
	}
	if pdf := g.writes("picture", "page.PDF"); !bytes.HasPrefix(pdf, []byte("%PDF-")) {
		t.Error("no PDF was written")
	}
	var names []string
	for _, m := range g.Patch().Modules {
		names = append(names, m.Name)
	}
	g.does(desk.RemoveModules(names...))
	for _, f := range g.plate.Files() {
		if f.Setting == "picture" && f.To(&bytes.Buffer{}, f.Name) == nil {
			t.Error("of nothing a picture is written")
		}
	}
}

// Of a row that repeats four of its own periods are drawn, whatever it is: the
// trace of a sine has as many maxima.
func TestATraceShowsFourPeriods(t *testing.T) {
	g := open(t, "soot", "slow", "filter", "oscillator", "filter")
	g.sets("slow", "rate", "2 Hz")
	g.sets("oscillator", "frequency", "220 Hz")
	g.joins("slow/out", "filter/cutoff", "1 oct")
	g.joins("oscillator/out", "filter 2/cutoff", "1 oct")
	g.opens(4)
	for _, r := range g.plate.rows {
		line := g.plate.line(nil, r, 200)
		crossings := 0
		middle := float32(r.scale.Fraction(r.setting.Value))
		for i := 1; i < len(line); i++ {
			if line[i-1] < middle && line[i] >= middle {
				crossings++
			}
		}
		if crossings < 3 || crossings > 5 {
			t.Errorf("%v rises through its setting %d times", r.At, crossings)
		}
	}
}

func TestTheTimeCanBeTyped(t *testing.T) {
	g := many(t, "soot")
	var setting plate.Setting
	find := func() plate.Setting {
		for _, s := range g.plate.Settings() {
			if s.Name == "time" {
				setting = s
			}
		}
		return setting
	}
	find().Typed(0.6)
	if find().Text != "500 ms" || g.plate.span(&row{}) != 0.5 {
		t.Errorf("0.6 s shows %s", setting.Text)
	}
	find().Step(1)
	if find().Text != "1 s" {
		t.Errorf("a step up shows %s", setting.Text)
	}
	find().Step(-100)
	if find().Text != "4 periods" || g.plate.span(&row{rate: rate{manner: periodic, hz: 8}}) != 0.5 {
		t.Errorf("at the end it shows %s", setting.Text)
	}
}

// Reading forty controls must leave the screen its time: the beat is measured, and
// allocates nothing but what is asked of the session.
func BenchmarkBeat(b *testing.B) {
	g := many(b, "soot")
	g.plate.fitting = 8
	g.plate.Show(true)
	g.sounds(6)
	b.ResetTimer()
	for b.Loop() {
		b.StopTimer()
		g.Listen(1.0 / 30)
		b.StartTimer()
		g.plate.Beat()
	}
}

func BenchmarkTraces(b *testing.B) {
	g := many(b, "soot")
	g.plate.fitting = 8
	g.plate.Show(true)
	g.sounds(6)
	s := newShapes(g.plate.drawShapes)
	s.raster.Resize(fyne.NewSize(240, 400))
	b.ResetTimer()
	for b.Loop() {
		s.raster.Generator(240, 400)
	}
}
