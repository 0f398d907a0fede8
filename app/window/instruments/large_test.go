package instruments

import (
	"bytes"
	"encoding/csv"
	"errors"
	"image/color"
	"image/png"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"lampblack/app/desk"
	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
	"lampblack/app/window/look/golden"
	"lampblack/app/window/plate"
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
	p.Save = func(plate.File) {}
	for at, which := range p.large.plates {
		p.Enlarge(instrument(at))
		w.Canvas().Capture()
		w.Canvas().Focus(p.Large())
		for range 40 { // two plates may have a place of the same name
			p.large.TypedKey(&fyne.KeyEvent{Name: fyne.KeyLeft})
		}
		reached := map[string]bool{p.large.At(): true}
		for range 40 {
			p.large.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
			reached[p.large.At()] = true
		}
		for range 40 {
			p.large.TypedKey(&fyne.KeyEvent{Name: fyne.KeyLeft})
		}
		for _, s := range p.large.settings() {
			if (s.Tap != nil || s.Step != nil) && !reached[s.Name] {
				t.Errorf("%s: the keyboard does not come to %q", which.Name(), s.Name)
			}
			if s.Hint == "" {
				t.Errorf("%s: %q does not tell what it is for", which.Name(), s.Name)
			}
			if s.Step == nil {
				continue
			}
			for at := 0; p.large.At() != s.Name && at < 40; at++ {
				p.large.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
			}
			was, before := p.measure.switches, p.measure.gram.over
			stood := s.Text
			p.large.TypedKey(&fyne.KeyEvent{Name: fyne.KeyUp})
			if p.measure.switches == was && textOf(p, s.Name) == stood {
				p.large.TypedKey(&fyne.KeyEvent{Name: fyne.KeyDown})
			}
			// Without a moved control there is but one thing to lay over a spectrogram.
			if p.measure.switches == was && p.measure.gram.over == before && s.Name != "over it" && textOf(p, s.Name) == stood {
				t.Errorf("%s: ↑ and ↓ do not change %q", which.Name(), s.Name)
			}
			p.set(func(w *switches) { *w = was })
			for range 40 {
				p.large.TypedKey(&fyne.KeyEvent{Name: fyne.KeyLeft})
			}
		}
	}
}

// Where there is no room for all names, the instrument that is shown is named,
// nothing runs into the word at the right end, and the others can be turned to.
func TestTheHeadingHoldsInANarrowView(t *testing.T) {
	b, p := sines(t, "soot", 440)
	w := b.Show(p.Large(), 760, 420)
	for _, width := range []float32{330, 420, 560, 760, 1400} {
		w.Resize(fyne.NewSize(width, 420))
		for i := range p.large.plates {
			p.Enlarge(instrument(i))
			w.Canvas().Capture()
			pen := leaf.Pen{Em: look.Em()}
			from, to := p.large.named(&pen, width-pen.Em*2.6-pen.Wide(look.Quiet, "sheet (Esc)"))
			if i < from || i >= to {
				t.Errorf("%g wide, %s is not named", width, p.large.plates[i].Name())
			}
			names := p.large.Names()
			for _, c := range []struct {
				name string
				want bool
			}{{"the one before", from > 0}, {"the one behind", to < len(p.large.plates)}, {"give back", true}} {
				if slices.Contains(names, c.name) != c.want && width < 700 {
					t.Errorf("%g wide, %s: %q is there: %v", width, p.large.plates[i].Name(), c.name, !c.want)
				}
			}
		}
	}
}

// textOf returns what a setting of the large instrument says now.
func textOf(p *Panel, name string) string {
	for _, s := range p.large.settings() {
		if s.Name == name {
			return s.Text
		}
	}
	return ""
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
	if err := fileOf(p, "numbers")(&file); err != nil {
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

// fileOf returns what writes a file of the large instrument.
func fileOf(p *Panel, setting string) func(io.Writer) error {
	for _, f := range p.large.now().(plate.Writer).Files() {
		if f.Setting == setting {
			return func(w io.Writer) error { return f.To(w, f.Name) }
		}
	}
	return func(io.Writer) error { return errors.New("there is no such file: " + setting) }
}

// Every large instrument is written in every format. The first bytes are those by
// which the formats are known: PNG (ISO/IEC 15948, 5.2), XML 1.0 (2.8) and PDF
// (ISO 32000-1, 7.5.2).
func TestWhatIsShownIsPrinted(t *testing.T) {
	b, p := sines(t, "soot", 440)
	b.Show(p.Large(), 760, 420)
	for _, c := range []struct {
		name  string
		which instrument
		set   func(w *switches)
	}{
		{"scope", ofScope, func(w *switches) { w.cursors = 1 }},
		{"plane", ofScope, func(w *switches) { w.plane = true }},
		{"strip chart", ofScope, func(w *switches) { w.time, w.cursors = 1, 1 }},
		{"spectrum", ofSpectrum, func(w *switches) { w.hold, w.average, w.linear = true, 4, true }},
		{"bands", ofSpectrum, func(w *switches) { w.show = showBands }},
		{"difference", ofSpectrum, func(w *switches) { w.show = showDifference }},
		{"spectrogram", ofGram, func(w *switches) { w.gramTime = 5 }},
	} {
		p.set(func(w *switches) { *w = usual(); c.set(w) })
		p.Enlarge(c.which)
		p.measure.gram.draw(400, 200)
		listen(b, p, 1)
		if c.which == ofScope {
			p.measure.keep()
		}
		f := pictureOf(t, p)
		for ending, magic := range map[string]string{".png": "\x89PNG\r\n\x1a\n", ".svg": "<?xml", ".pdf": "%PDF-1."} {
			var file bytes.Buffer
			if err := f.To(&file, "any"+ending); err != nil || !strings.HasPrefix(file.String(), magic) {
				t.Errorf("%s%s: %v; it begins with %.8q", c.name, ending, err, file.String())
			}
			if ending == ".png" {
				notBlank(t, c.name, &file)
			}
		}
	}
}

// pictureOf returns the picture that the large instrument can write.
func pictureOf(t *testing.T, p *Panel) plate.File {
	t.Helper()
	for _, f := range p.large.now().(plate.Writer).Files() {
		if f.Setting == "picture" {
			return f
		}
	}
	t.Fatalf("%s can't be written as a picture", p.large.now().Name())
	return plate.File{}
}

func notBlank(t *testing.T, name string, file io.Reader) {
	t.Helper()
	picture, err := png.Decode(file)
	if err != nil || picture.Bounds().Dx() < 1000 {
		t.Errorf("%s: %v", name, err)
		return
	}
	inks := map[color.Color]bool{} // a blank page has one
	for x := range picture.Bounds().Dx() {
		for y := 0; y < picture.Bounds().Dy(); y += 7 {
			inks[picture.At(x, y)] = true
		}
	}
	if len(inks) < 20 {
		t.Errorf("%s: the picture has %d colours", name, len(inks))
	}
}

// What has not been drawn yet is told, and nothing is written.
func TestAnEmptySpectrogramIsNotPrinted(t *testing.T) {
	_, p := sines(t, "soot", 440)
	p.Enlarge(ofGram)
	var file bytes.Buffer
	if err := pictureOf(t, p).To(&file, "gram.png"); err == nil || file.Len() > 0 {
		t.Errorf("%d bytes were written, %v", file.Len(), err)
	}
}

func TestSpectraAreWrittenAsNumbers(t *testing.T) {
	_, p := sines(t, "soot", 1500) // bin 256 of 8192 at 48 kHz
	p.Enlarge(ofSpectrum)
	var file bytes.Buffer
	if err := fileOf(p, "numbers")(&file); err != nil {
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
	if s := p.noiseSetting(); s.Text != "17.6 Hz" {
		t.Errorf("the noise bandwidth is %q", s.Text)
	}
	if s := p.windowSetting(); !strings.Contains(s.Hint, "1.50 bins") {
		t.Errorf("the window says %q", s.Hint)
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
	b.NewSound()
	p.Enlarge(ofGram)
	if p.measure.gram.over != (control{}) {
		t.Errorf("of an empty sheet %v is followed", p.measure.gram.over)
	}
	b.Undo() // the patch comes while the spectrogram is seen
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
	idle := allocs(func() { b.Listen(0.05) })
	if n := allocs(func() { b.Listen(0.05); p.measure.read(b.Session) }); n > idle {
		t.Errorf("a reading allocates %g times", n-idle)
	}
}

// allocs returns how often fn allocates: the least of several counts, since what
// other goroutines allocate meanwhile is counted as well.
func allocs(fn func()) float64 {
	least := math.Inf(1)
	for range 5 {
		least = min(least, testing.AllocsPerRun(20, fn))
	}
	return least
}
