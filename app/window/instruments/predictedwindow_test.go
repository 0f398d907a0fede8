package instruments

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"lampblack/app/desk"
	"lampblack/app/window/instruments/expect"
	"lampblack/app/window/leaf"
	"lampblack/app/window/look/golden"
	"lampblack/app/window/plate"
	"lampblack/app/window/windowtest"
	"lampblack/patch"
)

func TestWhatCannotBePredictedSaysWhy(t *testing.T) {
	th := newTheory(t, "soot")
	th.put("tone", "oscillator", "frequency", "220 Hz")
	th.put("rust", "saturation")
	th.cord("tone/out", "rust/in", "")
	w := th.Bench.Show(th.largeOf("rust/out"), 900, 600)
	w.Canvas().Capture()
	th.settle()
	if len(th.e.is.Why) == 0 || !strings.Contains(th.e.is.Why[0], "rust") {
		t.Fatalf("why: %q", th.e.is.Why)
	}
	s := th.p.large.plates[ofSpectrum].(*spectrumPlate)
	if rest := s.rings.draw(300, 200).(interface{ Opaque() bool }); rest.Opaque() {
		t.Error("a ring is drawn")
	}
	for i := range th.e.rows {
		if _, _, ok := s.rings.place(&th.e.rows[i], 300, 200); ok {
			t.Errorf("a ring claims %s", th.e.rows[i].Name)
		}
	}
}

func (th *theory) largeOf(at string) *Large {
	th.show(at)
	return th.p.Large()
}

// Beside a note the prediction is that of the note, and of the envelope's level.
func TestTheSoundingNoteIsWhatIsExpected(t *testing.T) {
	th := newTheory(t, "soot")
	th.put("keys", "memory")
	th.put("tone", "oscillator", "frequency", "440 Hz")
	th.put("rise", "envelope", "attack", "5 ms", "decay", "20 ms", "sustain", "50 %", "release", "2 s")
	th.put("gain", "amplifier", "level", "0 dB")
	th.cord("keys/pitch", "tone/frequency", "1 oct")
	th.cord("keys/gate", "rise/gate", "")
	th.cord("tone/out", "gain/in", "")
	th.cord("rise/out", "gain/level", "1 x")
	th.show("gain/out")
	th.measured(0.3)
	if about := th.e.about(); !strings.Contains(about, "no key down") || th.e.agreement() != "silence is expected" {
		t.Errorf("without a note: %q, %q", about, th.e.agreement())
	}
	th.NoteOn(3.0/12, 0.8)
	th.settle()
	if about := th.e.about(); !strings.Contains(about, "C5 held, velocity 0.80") {
		t.Errorf("while C5 is held: %q", about)
	}
	// C5 is 3 semitones above A4 (ISO 16): 440 x 2^(3/12) Hz; sustain 50 % is -6.02 dB.
	hz := 440 * math.Exp2(0.25)
	if r := th.row(hz); math.Abs(r.Level+6.0206) > 0.01 {
		t.Errorf("expected %.3f dB", r.Level)
	}
	th.holds("C5 held", -90, 0.01)
	th.NoteOff(3.0 / 12)
	th.measured(0.5)
	if about := th.e.about(); !strings.Contains(about, "on their way") {
		t.Errorf("in the release: %q", about)
	}
	// A level that falls by a time constant of 2 s: what was measured over 0.17 s
	// must follow within a dB.
	if r := th.row(hz); r.Told != expect.Read || math.Abs(r.OffLevel()) > 1 {
		t.Errorf("in the release %.2f dB expected, %.2f found", r.Level, r.Found)
	}
}

// Two lines that meet with phases that nothing tells: a range, and within it no
// difference.
// The settings of what is expected are reached by the keyboard, and the table by its
// own keys.
func TestTheKeyboardGoesThroughTheTable(t *testing.T) {
	th := newTheory(t, "soot")
	th.put("reed", "oscillator", "frequency", "441 Hz", "shape", "saw")
	w := th.Bench.Show(th.largeOf("reed/out"), 900, 600)
	w.Canvas().Capture()
	th.settle()
	large := th.p.Large()
	w.Canvas().Focus(large)
	seen := map[string]bool{}
	for range 40 {
		large.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
		seen[large.At()] = true
		if large.At() == "line" {
			large.TypedKey(&fyne.KeyEvent{Name: fyne.KeyDown})
		}
	}
	for _, name := range []string{"expected", "table", "line", "expected lines"} {
		if !seen[name] {
			t.Errorf("the keyboard does not come to %q", name)
		}
	}
	if th.e.chosen != 1 {
		t.Errorf("↓ at the line chose row %d", th.e.chosen)
	}
	for _, s := range large.settings() {
		if s.Hint == "" {
			t.Errorf("%q does not tell what it is for", s.Name)
		}
	}
	list := th.p.large.plates[ofSpectrum].(*spectrumPlate).list
	for _, k := range []struct {
		name fyne.KeyName
		want int
	}{{fyne.KeyDown, 2}, {fyne.KeyPageDown, 10}, {fyne.KeyUp, 9}, {fyne.KeyEnd, len(th.e.rows) - 1}, {fyne.KeyHome, 0}} {
		list.TypedKey(&fyne.KeyEvent{Name: k.name})
		if th.e.chosen != k.want {
			t.Errorf("%s chose row %d, want %d", k.name, th.e.chosen, k.want)
		}
	}
	if err := list.Click("row 3"); err != nil || th.e.chosen != 2 {
		t.Errorf("a click on the third row chose %d (%v)", th.e.chosen, err)
	}
	if err := large.Click("rings"); err != nil {
		t.Error(err)
	}
}

func TestLinesThatMeetAreARange(t *testing.T) {
	th := newTheory(t, "soot")
	for _, name := range []string{"one", "two"} {
		th.put(name, "oscillator", "frequency", "510 Hz")
		th.Listen(0.02) // the second begins later
	}
	th.put("both", "mixer", "level 2", "-6 dB")
	th.cord("one/out", "both/1", "")
	th.cord("two/out", "both/2", "")
	th.show("both/out")
	th.settle()
	r := th.row(510)
	// 1 + 0.501 and 1 - 0.501, of -6 dB = 0.5012.
	if math.Abs(r.Most-3.53) > 0.01 || math.Abs(r.Least+6.04) > 0.01 || r.OffLevel() != 0 {
		t.Errorf("%.2f to %.2f dB, found %.2f, off by %g", r.Least, r.Most, r.Found, r.OffLevel())
	}
}

// Oscillators that began at once: lines that are reflected at 0 Hz meet others, and
// are added as vectors as soon as the sound agrees with that.
func TestReflectedLinesAreAddedWhereTheSoundAgrees(t *testing.T) {
	th := newTheory(t, "soot")
	th.put("clapper", "oscillator", "frequency", "200 Hz")
	th.put("bronze", "oscillator", "frequency", "400 Hz")
	th.cord("clapper/out", "bronze/phase", fmt.Sprintf("%.9f deg", 2*180/math.Pi))
	whole := th.Patch().Clone()
	th = newTheory(t, "soot")
	th.Teach(desk.LessonStep{Lesson: "trial", Title: "trial", Step: 1, Patch: whole}) // all of it begins at once
	th.show("bronze/out")
	th.settle()
	if !th.e.together {
		t.Fatal("the sound is not taken for what it is")
	}
	th.holds("carrier 400 Hz, modulator 200 Hz", -90, 0.01)
	// sin(a + 2 sin b), a = 2b: the line at b is J-1 sin(a-b) + J-3 sin(a-3b)
	// = -J1 sin b + J3 sin b, Abramowitz and Stegun, tables 9.1 and 9.2.
	want := 20 * math.Log10(0.5767248078-0.1289432495)
	if r := th.row(200); math.Abs(r.Level-want) > 0.01 || math.Abs(r.Found-want) > 0.01 || r.Open() {
		t.Errorf("200 Hz: %.4f dB expected, %.4f found, want %.4f", r.Level, r.Found, want)
	}
}

func TestOldAnswersAreDropped(t *testing.T) {
	th := newTheory(t, "soot")
	th.put("tone", "oscillator", "frequency", "300 Hz")
	th.put("other", "oscillator", "frequency", "700 Hz")
	th.show("tone/out")
	th.Listen(0.1)
	th.p.Beat()
	if !th.e.busy {
		t.Fatal("nothing was asked")
	}
	th.SetProbe(desk.ProbeA, patch.Socket{Module: "other", Name: "out"})
	th.Until("the old answer", func() bool { return !th.e.busy })
	if len(th.e.rows) > 0 {
		t.Errorf("the answer for the other output is shown: %+v", th.e.rows)
	}
	th.measured(0.3)
	th.row(700)
	th.p.GiveBack()
	th.Do(desk.SetControl("other", "frequency", patch.Setting{Value: 900, Unit: "Hz"}))
	th.Listen(0.1)
	th.p.Beat()
	if th.e.busy || th.e.asked.patch == th.e.patch {
		t.Error("it is asked while the spectrum is not seen")
	}
}

// While a control is turned the answers follow, and the last one is for where it
// came to rest.
func TestAnswersFollowADraggedControl(t *testing.T) {
	th := newTheory(t, "soot")
	th.put("tone", "oscillator", "frequency", "300 Hz")
	th.show("tone/out")
	answers, last := 0, int64(0)
	for i := range 30 {
		th.Do(desk.SetControl("tone", "frequency", patch.Setting{Value: 300 + float64(i), Unit: "Hz"}))
		th.Listen(1.0 / 30)
		th.p.Beat()
		if i%3 == 2 { // an answer takes three frames
			th.Until("an answer", func() bool { return !th.e.busy && !th.e.sound.busy })
		}
		if th.e.answered.patch != last {
			answers, last = answers+1, th.e.answered.patch
		}
	}
	if answers < 8 {
		t.Errorf("%d answers came while the control was turned 30 times", answers)
	}
	th.settle()
	th.row(329)
	th.holds("after a drag", -90, 0.01)
}

func TestTheTableIsWritten(t *testing.T) {
	th := newTheory(t, "soot")
	th.put("reed", "oscillator", "frequency", "441 Hz", "shape", "saw")
	th.show("reed/out")
	th.settle()
	var file bytes.Buffer
	if err := fileOf(th.p, "expected lines")(&file); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&file).ReadAll()
	if err != nil || len(rows) != len(th.e.rows)+1 {
		t.Fatalf("%d lines, %v", len(rows), err)
	}
	// Fourier: harmonic 2 of a saw is 2/(2 pi).
	level, _ := strconv.ParseFloat(rows[2][6], 64)
	if rows[2][0] != "2 x reed" || math.Abs(level-20*math.Log10(1/math.Pi)) > 0.01 || rows[0][7] != "difference (dB)" {
		t.Errorf("the second line is %q", rows[2])
	}
}

// picture shows the plate alone, on a leaf of its own.
func (th *theory) picture(at string, width, height float32) (fyne.Window, *leaf.Turning) {
	th.show(at)
	l := leaf.NewTurning(func(p *leaf.Pen) {
		th.p.large.plates[ofSpectrum].Write(p, plate.Box{X: p.Em, Y: p.Em, Width: p.Width - 2*p.Em, Height: p.Height - 2*p.Em})
	})
	w := th.Bench.Show(l, width, height)
	w.Canvas().Capture()
	return w, l
}

func TestExpectedPictures(t *testing.T) {
	for _, theme := range windowtest.Themes {
		th := newTheory(t, theme)
		th.put("clapper", "oscillator", "frequency", "210 Hz")
		th.put("bronze", "oscillator", "frequency", "1000 Hz")
		th.cord("clapper/out", "bronze/shift", "504 Hz")
		w, l := th.picture("bronze/out", 700, 520)
		th.settle()
		th.e.choose(2)
		l.Refresh()
		golden.Check(t, "expected-fm-"+theme+".png", w.Canvas())

		th = newTheory(t, theme)
		th.put("hiss", "noise")
		th.put("band", "filter", "cutoff", "1500 Hz", "width", "Q 4")
		th.cord("hiss/out", "band/in", "")
		w, l = th.picture("band/band", 560, 320)
		th.p.set(func(w *switches) { w.table, w.average = false, 64 })
		th.measured(3)
		l.Refresh()
		golden.Check(t, "expected-hiss-"+theme+".png", w.Canvas())

		th = newTheory(t, theme)
		for _, name := range []string{"one", "two"} {
			th.put(name, "oscillator", "frequency", "510 Hz", "shape", "triangle")
			th.Listen(0.02) // the second begins later
		}
		th.put("both", "mixer", "level 2", "-6 dB")
		th.cord("one/out", "both/1", "")
		th.cord("two/out", "both/2", "")
		w, l = th.picture("both/out", 560, 420)
		th.settle()
		l.Refresh()
		golden.Check(t, "expected-range-"+theme+".png", w.Canvas())
	}
}
