package instruments

import (
	"math"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"lampblack/app/desk"
	"lampblack/app/window/look/golden"
	"lampblack/app/window/windowtest"
	"lampblack/patch"
	"lampblack/scope"
)

// sines puts two oscillators on the bench, at hz and at half of it, and a probe
// on each.
func sines(t testing.TB, theme string, hz float64) (*windowtest.Bench, *Panel) {
	b := windowtest.New(t, theme)
	for i, name := range []string{"oscillator", "oscillator 2"} {
		e, got := desk.AddModule("oscillator", patch.Point{X: 10, Y: 10}, b.Patch())
		if got != name {
			t.Fatalf("the oscillator is called %q", got)
		}
		b.Do(e)
		b.Do(desk.SetControl(name, "frequency", patch.Setting{Value: hz / float64(i+1), Unit: "Hz"}))
		b.SetProbe(desk.ProbeID(i), patch.Socket{Module: name, Name: "out"})
	}
	p := New(b.Session)
	p.Beat()       // the taps begin to listen
	for range 50 { // 1.5 s at screen speed
		b.Listen(0.03)
		p.Beat()
	}
	return b, p
}

func TestPicture(t *testing.T) {
	for _, theme := range windowtest.Themes {
		b, p := sines(t, theme, 440)
		w := b.Show(p, 372, 545)
		p.set(func(w *switches) { w.source, w.level = 1, 0.25 })
		p.Beat()
		golden.Check(t, theme+".png", w.Canvas())
	}
}

func TestASineReadsItsOwnFrequencyAndLevel(t *testing.T) {
	_, p := sines(t, "soot", 1000)
	p.Beat()
	got := p.measure.peaks[0]
	if len(got) == 0 {
		t.Fatal("no line is found")
	}
	// A full-scale sine is a line of 0 dBFS by definition of dBFS.
	if math.Abs(got[0].Hz-1000) > 0.5 || math.Abs(got[0].DB) > 0.1 {
		t.Errorf("a sine of 1 kHz and 0 dBFS reads %.2f Hz, %.2f dB", got[0].Hz, got[0].DB)
	}
	r := p.measure.meters[0].Reading()
	if math.Abs(r.RMS+3.01) > 0.1 || math.Abs(r.Hold) > 0.1 {
		t.Errorf("its meter reads RMS %.2f dB, peak %.2f dB; want -3.01 and 0", r.RMS, r.Hold)
	}
	if text := p.readout(0); !strings.HasPrefix(text, "A 1.00 kHz") {
		t.Errorf("the readout says %q", text)
	}
}

func TestATriggeredPictureStandsStill(t *testing.T) {
	b, p := sines(t, "soot", 440)
	p.set(func(w *switches) { w.source = 1 })
	phase := func() float64 {
		p.Beat()
		i := int(math.Ceil(p.measure.view.First))
		return float64(p.measure.samples[1][i])
	}
	for range 5 {
		b.Listen(0.0137) // no whole number of periods
		// One sample after a rise through 0 of a sine of 220 Hz at 48 kHz the
		// value is at most sin(2 pi 220/48000).
		if v := phase(); v < 0 || v > 0.0289 || !p.measure.triggered {
			t.Errorf("the picture begins at %.4f, not at a rise through 0 (triggered: %v)", v, p.measure.triggered)
		}
	}
}

func TestFrozenPicturesStay(t *testing.T) {
	b, p := sines(t, "soot", 440)
	p.Beat()
	p.ToggleFreeze()
	before := append([]float32(nil), p.measure.samples[0]...)
	b.Listen(0.1)
	p.Beat()
	for i, v := range p.measure.samples[0] {
		if v != before[i] {
			t.Fatal("a frozen picture has moved")
		}
	}
	p.ToggleFreeze()
	b.Listen(0.1)
	if !p.measure.read(b.Session) {
		t.Error("after freezing, nothing new is drawn")
	}
}

func TestNothingNewIsNotDrawnAgain(t *testing.T) {
	b, p := sines(t, "soot", 440)
	p.Beat()
	if p.measure.read(b.Session) {
		t.Error("drawn again although no sample came")
	}
	b.SetProbe(desk.ProbeA, patch.Socket{})
	if !p.measure.read(b.Session) {
		t.Error("a probe was taken away and the picture kept")
	}
}

func TestALineCoversItsOwnWidth(t *testing.T) {
	test.NewTempApp(t)
	p := newPicture(func(dst []scope.Column, i, h int) bool {
		for c := range dst {
			dst[c] = scope.Column{Min: 10.3, Max: 10.3}
		}
		return i == 0
	})
	p.raster.Resize(fyne.NewSize(20, 20))
	img := p.draw(20, 20)
	sum := 0.0
	for y := range 20 {
		_, _, _, a := img.At(7, y).RGBA()
		sum += float64(a) / 0xFFFF
	}
	if math.Abs(sum-1.2) > 0.01 {
		t.Errorf("a line of 1.2 pixels covers %.3f", sum)
	}
}

func TestADrawingAllocatesNothing(t *testing.T) {
	_, p := sines(t, "soot", 440)
	p.scope.raster.Resize(fyne.NewSize(288, 170))
	p.scope.draw(288, 170)
	if n := allocs(func() { p.scope.draw(288, 170) }); n > 0 {
		t.Errorf("a picture allocates %g times", n)
	}
}

// BenchmarkRedraw measures what the instruments cost at screen speed: reading
// both probes, trigger, two spectra of 8192 samples, and both pictures.
func BenchmarkRedraw(b *testing.B) {
	bench, p := sines(b, "soot", 440)
	bench.Show(p, 372, 545)
	for b.Loop() {
		b.StopTimer()
		bench.Listen(1.0 / 30)
		b.StartTimer()
		p.measure.read(bench.Session)
		p.scope.draw(288, 170)
		p.spectrum.draw(288, 160)
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/1e6, "ms/frame")
}

// A steady tone changes nothing else on the panel: the meters must not wait for
// something else to be written.
func TestTheMetersFollowASteadyTone(t *testing.T) {
	b, p := sines(t, "soot", 440)
	b.Show(p, 372, 545)
	for range 20 {
		b.Listen(0.03)
		p.Beat()
	}
	if p.read != p.levelText() {
		t.Errorf("the meters show %q and read %q", p.read, p.levelText())
	}
	b.SetProbe(desk.ProbeB, patch.Socket{})
	p.Beat()
	b.SetProbe(desk.ProbeB, b.Probe(desk.ProbeA)) // its meter begins anew
	p.Beat()
	for range 20 {
		b.Listen(0.03)
		p.Beat()
	}
	if r := p.measure.meters[1].Reading(); math.Abs(r.Hold) > 0.1 || p.read != p.levelText() {
		t.Errorf("of a tone of 0 dBFS the meter reads %.1f and shows %q", r.Hold, p.read)
	}
}

func TestALineThatIsTooLowIsNotRead(t *testing.T) {
	_, p := sines(t, "soot", 12)
	if text := p.readout(0); text != "A under 23.4 Hz" {
		t.Errorf("of a voltage of 12 Hz the spectrum says %q", text)
	}
}
