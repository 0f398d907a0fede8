package instruments

import (
	"bytes"
	"encoding/csv"
	"io"
	"math"
	"strconv"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"lampblack/app/desk"
	"lampblack/app/window/look/golden"
	"lampblack/app/window/windowtest"
	"lampblack/patch"
	"lampblack/scope"
)

// listen lets the bench sound and the panel measure at screen speed.
func listen(b *windowtest.Bench, p *Panel, seconds float64) {
	for range int(seconds*30 + 0.5) {
		b.Listen(1.0 / 30)
		p.Beat()
	}
}

func TestLargePictures(t *testing.T) {
	for _, theme := range windowtest.Themes {
		b, p := sines(t, theme, 440)
		w := b.Show(p.Large(), 760, 420)
		for _, c := range []struct {
			name  string
			which instrument
			set   func(w *switches)
		}{
			{"scope", ofScope, func(w *switches) { w.time, w.cursors, w.before, w.fade = 1e-3, 1, 0.2, 1 }},
			{"plane", ofScope, func(w *switches) { w.plane = true }},
			{"spectrum", ofSpectrum, func(w *switches) { w.show, w.hold = showBands, true }},
			{"difference", ofSpectrum, func(w *switches) { w.show = showDifference }},
			{"spectrogram", ofGram, func(w *switches) { w.gramTime = 5 }},
		} {
			p.set(func(w *switches) { *w = usual(); c.set(w) })
			p.Enlarge(c.which)
			w.Canvas().Capture() // the toolkit draws: sizes are known from here on
			listen(b, p, 1)
			golden.Check(t, "large-"+c.name+"-"+theme+".png", w.Canvas())
		}
	}
}

// Every setting of the large view is reached with the arrow keys, does something
// there and tells what it is for.
func TestTheKeyboardReachesEverySetting(t *testing.T) {
	b, p := sines(t, "soot", 440)
	w := b.Show(p.Large(), 760, 420)
	p.Save = func(string, func(io.Writer) error) {}
	for which := range instrumentCount {
		p.Enlarge(which)
		w.Canvas().Capture()
		w.Canvas().Focus(p.Large())
		reached := map[string]bool{}
		for range 40 {
			p.large.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
			reached[p.large.At()] = true
		}
		for range 40 {
			p.large.TypedKey(&fyne.KeyEvent{Name: fyne.KeyLeft})
		}
		for _, s := range p.large.settings() {
			if (s.tap != nil || s.step != nil) && !reached[s.name] {
				t.Errorf("%v: the keyboard does not come to %q", which, s.name)
			}
			if s.hint == "" {
				t.Errorf("%v: %q does not tell what it is for", which, s.name)
			}
			if s.step == nil {
				continue
			}
			for at := 0; p.large.At() != s.name && at < 40; at++ {
				p.large.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
			}
			was, before := p.measure.switches, p.measure.gram.over
			p.large.TypedKey(&fyne.KeyEvent{Name: fyne.KeyUp})
			if p.measure.switches == was {
				p.large.TypedKey(&fyne.KeyEvent{Name: fyne.KeyDown})
			}
			// Without a moved control there is but one thing to lay over a spectrogram.
			if p.measure.switches == was && p.measure.gram.over == before && s.name != "over it" {
				t.Errorf("%v: ↑ and ↓ do not change %q", which, s.name)
			}
			p.set(func(w *switches) { *w = was })
			for range 40 {
				p.large.TypedKey(&fyne.KeyEvent{Name: fyne.KeyLeft})
			}
		}
	}
}

func TestNormalKeepsThePictureAndSingleTakesOne(t *testing.T) {
	b, p := sines(t, "soot", 440)
	p.set(func(w *switches) { w.mode = scope.Normal })
	listen(b, p, 0.2)
	shot := p.measure.shot
	listen(b, p, 0.2)
	if p.measure.shot == shot {
		t.Error("normal takes no new picture of a tone that crosses 0")
	}
	p.set(func(w *switches) { w.level = 0.9; w.value[0] = 0.25 })
	p.set(func(w *switches) { w.level = 1.5 }) // beyond the sine: it never fires
	listen(b, p, 0.1)
	shot = p.measure.shot
	listen(b, p, 0.5)
	if p.measure.shot != shot || p.state() != "waits for its trigger" {
		t.Errorf("without a crossing %d pictures came, and it says %q", p.measure.shot-shot, p.state())
	}
	p.set(func(w *switches) { w.level, w.mode = 0, scope.Single })
	p.measure.sweep.Arm()
	shot = p.measure.shot
	listen(b, p, 0.5)
	if p.measure.shot != shot+1 || !p.measure.sweep.Done() {
		t.Errorf("single took %d pictures", p.measure.shot-shot)
	}
}

func TestAPictureBeginsWithANote(t *testing.T) {
	b, p := sines(t, "soot", 440)
	e, name := desk.AddModule("memory", patch.Point{X: 300, Y: 10}, b.Patch())
	b.Do(e)
	p.set(func(w *switches) { w.source, w.mode = onNotes, scope.Normal })
	listen(b, p, 0.5)
	shot := p.measure.shot
	b.NoteOn(0, 0.8)
	listen(b, p, 0.5)
	if name == "" || p.measure.shot != shot+1 {
		t.Fatalf("one note of %q began %d pictures", name, p.measure.shot-shot)
	}
	// The trigger is 1 for the one sample on which the note starts.
	at := int(math.Round(p.measure.zero + 0.5))
	if near := p.measure.samples[onNotes][at-1 : at+2]; max(near[0], near[1], near[2]) != 1 {
		t.Errorf("at the picture's trigger the notes read %v", near)
	}
}

func TestCursorsReadOnePeriod(t *testing.T) {
	b, p := sines(t, "soot", 1000)
	p.set(func(w *switches) { w.time, w.cursors = 1e-3, 1 })
	listen(b, p, 0.1)
	p.measure.cursors = [2]float64{0.1, 0.2} // 1 ms apart: a period of 1 kHz
	r, ok := p.measure.readCursors()
	if !ok || math.Abs(r.Seconds-1e-3) > 1e-12 || math.Abs(r.Hz-1000) > 1e-6 || math.Abs(r.Rise) > 1e-3 {
		t.Errorf("over a period of 1 kHz the cursors read %+v", r)
	}
	p.measure.cursors = [2]float64{0.025, 0.075} // a quarter and three quarters of a sine: its two peaks
	if r, _ = p.measure.readCursors(); math.Abs(r.Rise+2) > 2e-3 {
		t.Errorf("from the crest to the trough of a full-scale sine they read %.4f, want -2", r.Rise)
	}
	b.Show(p.Large(), 760, 420)
	p.Enlarge(ofScope)
	p.Large().moveCursor(0, -3)
	if p.measure.cursors[0] != 0 {
		t.Errorf("a cursor left the picture: %g", p.measure.cursors[0])
	}
}

func TestTwoEqualSignalsDrawADiagonal(t *testing.T) {
	b, p := sines(t, "soot", 440)
	b.SetProbe(desk.ProbeB, b.Probe(desk.ProbeA))
	p.set(func(w *switches) { w.plane = true })
	listen(b, p, 1)
	p.scope.raster.Resize(fyne.NewSize(160, 160))
	img := p.scope.draw(160, 160)
	on := 0
	for y := range 160 {
		for x := range 160 {
			if _, _, _, a := img.At(x, y).RGBA(); a > 0 {
				on++
				if d := x + y - 159; d < -3 || d > 3 {
					t.Fatalf("ink at (%d, %d), beside the diagonal", x, y)
				}
			}
		}
	}
	if on < 150 {
		t.Errorf("the diagonal has only %d pixels", on)
	}
}

func TestOldTracesFade(t *testing.T) {
	b, p := sines(t, "soot", 440)
	b.SetProbe(desk.ProbeB, patch.Socket{})
	p.set(func(w *switches) { w.fade = 0.5 })
	p.scope.raster.Resize(fyne.NewSize(200, 160))
	for range 15 {
		listen(b, p, 1.0/30)
		p.scope.draw(200, 160)
	}
	b.Do(desk.SetControl("oscillator", "frequency", patch.Setting{Value: 100, Unit: "Hz"}))
	ink := func() float64 { // above what one trace of 100 Hz covers
		sum := 0.0
		img := p.scope.draw(200, 160)
		for y := range 160 {
			for x := range 200 {
				_, _, _, a := img.At(x, y).RGBA()
				sum += float64(a) / 0xFFFF
			}
		}
		return sum
	}
	listen(b, p, 0.1)
	early := ink()
	for range 60 { // 2 s: four time constants
		listen(b, p, 1.0/30)
		p.scope.draw(200, 160)
	}
	if late := ink(); late > 0.75*early {
		t.Errorf("after 2 s the picture has %.0f of %.0f pixels of ink", late, early)
	}
}

func TestLongTimesRoll(t *testing.T) {
	b, p := sines(t, "soot", 440)
	p.set(func(w *switches) { w.time = 0.1 })
	p.scope.raster.Resize(fyne.NewSize(100, 80))
	listen(b, p, 0.5) // of 1 s
	cols := make([]scope.Column, 100)
	if !p.scope.scopeLine(cols, 0, 80) {
		t.Fatal("nothing is drawn")
	}
	if !cols[30].Empty() || cols[70].Empty() {
		t.Errorf("after half of the time the left half is %v and the right half %v", cols[30], cols[70])
	}
	// A full-scale sine reaches 4 divisions of 0.25 up and down: the whole picture.
	if cols[80].Min > 0.1 || cols[80].Max < 79.9 {
		t.Errorf("a full-scale sine reaches from %.2f to %.2f of 80 pixels", cols[80].Min, cols[80].Max)
	}
}

func TestAKeptTraceStaysAndIsWritten(t *testing.T) {
	b, p := sines(t, "soot", 440)
	p.measure.keep()
	b.Do(desk.SetControl("oscillator", "frequency", patch.Setting{Value: 880, Unit: "Hz"}))
	listen(b, p, 1)
	cols := make([]scope.Column, 300)
	if !p.scope.scopeLine(cols, under, 80) {
		t.Fatal("the kept trace is not drawn")
	}
	var file bytes.Buffer
	p.Enlarge(ofScope)
	if err := p.WriteNumbers(&file); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if head := strings.Join(rows[0], ","); head != "time (s),A,B,A kept,B kept" {
		t.Errorf("the columns are %s", head)
	}
	if len(rows) != 2401 { // 50 ms at 48 kHz, and the head
		t.Errorf("%d lines", len(rows))
	}
	worst := 0.0
	for _, row := range rows[1:2300] {
		at, _ := strconv.ParseFloat(row[0], 64)
		kept, _ := strconv.ParseFloat(row[3], 64)
		worst = max(worst, math.Abs(kept-math.Sin(2*math.Pi*440*at)))
	}
	if worst > 0.002 {
		t.Errorf("the kept sine of 440 Hz strays by %.4f from sin(2 pi 440 t)", worst)
	}
	p.measure.drop()
	if p.scope.scopeLine(cols, under, 80) {
		t.Error("a dropped trace is drawn")
	}
}

func TestSpectraAreWrittenAsNumbers(t *testing.T) {
	_, p := sines(t, "soot", 1500) // bin 256 of 8192 at 48 kHz
	p.Enlarge(ofSpectrum)
	var file bytes.Buffer
	if err := p.WriteNumbers(&file); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&file).ReadAll()
	if err != nil || len(rows) != 8192/2+2 {
		t.Fatalf("%d lines, %v", len(rows), err)
	}
	// A full-scale sine in the middle of its bin is 0 dBFS by definition.
	if db, _ := strconv.ParseFloat(rows[257][1], 64); rows[257][0] != "1500" || math.Abs(db) > 0.01 {
		t.Errorf("line 257 reads %v", rows[257])
	}
}

func TestThePeakReadoutNamesTheNote(t *testing.T) {
	_, p := sines(t, "soot", 442)
	// 1200 log2(442/440) = 7.85 cents above A4 (ISO 16).
	if text := p.peaksText(0); !strings.HasPrefix(text, "A 442.00 Hz 0.0 dB  A4 +8 ct") && !strings.HasPrefix(text, "A 442.00 Hz −0.0 dB  A4 +8 ct") {
		t.Errorf("of 442 Hz the spectrum says %q", text)
	}
}

func TestTheNoiseBandwidthIsTold(t *testing.T) {
	_, p := sines(t, "soot", 440)
	p.set(func(w *switches) { w.window, w.samples = scope.Hann, 4096 })
	// Harris 1978, table I: Hann 1.50 bins; 48000/4096 = 11.72 Hz a bin.
	if s := p.noiseSetting(); s.text != "17.6 Hz" {
		t.Errorf("the noise bandwidth is %q", s.text)
	}
	if s := p.windowSetting(); !strings.Contains(s.hint, "1.50 bins") {
		t.Errorf("the window says %q", s.hint)
	}
}

func TestTheSpectrogramMeasuresOnlyWhileItIsSeen(t *testing.T) {
	b, p := sines(t, "soot", 440)
	b.Show(p.Large(), 760, 420).Canvas().Capture()
	if p.measure.gram.gram != nil {
		t.Error("a spectrogram was made that nobody has asked for")
	}
	p.Enlarge(ofGram)
	p.measure.gram.draw(400, 256)
	listen(b, p, 1)
	g := p.measure.gram.gram
	levels, _ := g.Frame(0)
	loudest := 0
	for i, db := range levels {
		if db > levels[loudest] {
			loudest = i
		}
	}
	if hz := p.measure.axis().At((float64(loudest) + 0.5) / 256); math.Abs(math.Log2(hz/440)) > 0.05 {
		t.Errorf("of 440 Hz the strongest row stands at %.0f Hz", hz)
	}
	p.GiveBack()
	count := g.Count()
	listen(b, p, 1)
	if g.Count() != count {
		t.Error("it goes on measuring while it is hidden")
	}
}

func TestAControlIsFollowedOverTheSpectrogram(t *testing.T) {
	b := windowtest.New(t, "soot")
	b.Fill()
	p := New(b.Session)
	list := moving(b.Session)
	if len(list) == 0 {
		t.Fatal("the patch moves no control")
	}
	p.Enlarge(ofGram)
	p.measure.gram.draw(200, 100)
	b.Play()
	listen(b, p, 1)
	g := p.measure.gram
	if g.over != list[0] || g.moved < 25 {
		t.Fatalf("of %v %d readings were taken", g.over, g.moved)
	}
	_, now, _, _ := b.Swept(g.over.module, g.over.name)
	if last := g.moves[(g.moved-1)%movesKept]; last.value != now {
		t.Errorf("the last reading is %g, the control stands at %g", last.value, now)
	}
}

func TestMeasuringAllocatesNothing(t *testing.T) {
	b, p := sines(t, "soot", 440)
	p.set(func(w *switches) { w.average, w.hold = 4, true })
	p.Enlarge(ofGram)
	p.measure.gram.seen = true
	p.measure.gram.draw(300, 200)
	p.measure.read(b.Session)
	idle := testing.AllocsPerRun(30, func() { b.Listen(0.05) })
	if n := testing.AllocsPerRun(30, func() { b.Listen(0.05); p.measure.read(b.Session) }); n > idle+0.5 {
		t.Errorf("a reading allocates %g times", n-idle)
	}
}

// BenchmarkLarge measures what each large picture costs at 800 by 500 pixels.
func BenchmarkLarge(b *testing.B) {
	for _, c := range []struct {
		name  string
		which instrument
		set   func(w *switches)
	}{
		{"scope", ofScope, func(w *switches) {}},
		{"afterglow", ofScope, func(w *switches) { w.fade = 1 }},
		{"plane", ofScope, func(w *switches) { w.plane = true }},
		{"spectrum", ofSpectrum, func(w *switches) {}},
		{"thirds", ofSpectrum, func(w *switches) { w.show = showBands }},
		{"spectrogram", ofGram, func(w *switches) {}},
	} {
		b.Run(c.name, func(b *testing.B) {
			bench, p := sines(b, "soot", 440)
			p.Enlarge(c.which)
			p.set(c.set)
			draw := map[instrument]func(){
				ofScope: func() { p.large.scope.draw(800, 500) }, ofSpectrum: func() { p.large.spectrum.draw(800, 500) },
				ofGram: func() { p.measure.gram.draw(800, 500) },
			}[c.which]
			for b.Loop() {
				b.StopTimer()
				bench.Listen(1.0 / 30)
				b.StartTimer()
				p.measure.read(bench.Session)
				draw()
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/1e6, "ms/frame")
		})
	}
}
