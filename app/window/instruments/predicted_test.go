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

// theory is a bench with a patch, its instruments, and the large spectrum that
// shows what is expected.
type theory struct {
	*windowtest.Bench
	p *Panel
	e *expected
	t testing.TB
}

func newTheory(t testing.TB, theme string) *theory {
	b := windowtest.New(t, theme)
	return &theory{Bench: b, t: t}
}

// put adds a module; settings are pairs of control and text.
func (th *theory) put(name, kind string, settings ...string) {
	th.t.Helper()
	add, got := desk.AddModule(kind, patch.Point{X: 10, Y: 10}, th.Patch())
	th.Do(add)
	if got != name {
		th.Do(desk.RenameModule(got, name))
	}
	for i := 0; i < len(settings); i += 2 {
		s, err := patch.ParseSetting(settings[i+1], th.Kind(name).Control(settings[i]))
		if err != nil {
			th.t.Fatal(err)
		}
		th.Do(desk.SetControl(name, settings[i], s))
	}
}

// cord joins "module/socket" to another; depth is empty into an input.
func (th *theory) cord(from, to, depth string) {
	th.t.Helper()
	a, b := socketOf(from), socketOf(to)
	var d patch.Setting
	if depth != "" {
		c := *th.Kind(b.Module).Control(b.Name)
		if i := c.Scale(th.Patch().Module(b.Module).Settings[b.Name].Unit); i > 0 {
			c.Scales = c.Scales[i : i+1]
		}
		var err error
		if d, err = patch.ParseDepth(depth, &c); err != nil {
			th.t.Fatal(err)
		}
	}
	if !th.Do(desk.Join(a, b, d)) {
		th.t.Fatalf("%s could not be joined to %s", from, to)
	}
}

func socketOf(text string) patch.Socket {
	module, name, _ := strings.Cut(text, "/")
	return patch.Socket{Module: module, Name: name}
}

// show opens the large spectrum with a probe on an output, and the table.
func (th *theory) show(at string) {
	th.SetProbe(desk.ProbeA, socketOf(at))
	th.p = New(th.Session)
	th.p.Enlarge(ofSpectrum)
	th.p.set(func(w *switches) { w.expected, w.table = 1, true })
	th.e = th.p.large.plates[ofSpectrum].(*spectrumPlate).expected
}

// settle lets the patch sound until it was measured over the longest stretch.
func (th *theory) settle() {
	th.t.Helper()
	th.measured(1.2)
}

// measured lets it sound so long, at the pace of the screen, and waits for what is
// asked and measured meanwhile.
func (th *theory) measured(seconds float64) {
	for range int(seconds*30 + 0.5) {
		th.Listen(1.0 / 30)
		th.p.Beat()
		th.Until("an answer", func() bool { return !th.e.busy && !th.e.sound.busy })
	}
}

// row is the row at a frequency.
func (th *theory) row(hz float64) *expect.Row {
	th.t.Helper()
	for i := range th.e.rows {
		if r := &th.e.rows[i]; !r.Band && math.Abs(r.Hz-hz) < 0.02 {
			return r
		}
	}
	th.t.Fatalf("no line is expected at %g Hz", hz)
	return nil
}

// holds checks that all rows above floor agree as the issue of a still sound
// demands, and tells the figures.
func (th *theory) holds(what string, floor, within float64) {
	th.t.Helper()
	db, hz, lines := expect.Worst(th.e.rows, floor)
	left := math.NaN()
	if th.e.sound.rest != nil {
		left = th.e.sound.rest.Level
	}
	th.t.Logf("%s: %d lines above %g dB within %.6f dB and %.6f Hz, left %.1f dB, over %.2f s", what, lines, floor, db, hz, left, th.e.sound.seconds)
	above := 0
	for i := range th.e.rows {
		if th.e.rows[i].Level >= floor {
			above++
		}
	}
	if len(th.e.is.Why) > 0 || lines == 0 || lines != above || db > within || hz > 0.01 {
		th.t.Errorf("%s: %d of %d lines read, within %.6f dB and %.6f Hz, why %q; want %g dB and 0.01 Hz", what, lines, above, db, hz, th.e.is.Why, within)
	}
}

// bessel are values of Abramowitz and Stegun: tables 9.1 (orders 0 to 2), 9.2
// (orders 3 to 9) and 9.4. At 2.405, beside the zero 2.4048255577 of table 9.5,
// where J1 is 0.5191474973 (same table), eq. 9.1.28 gives J0 = -(index -
// 2.4048255577) x 0.5191474973; the index there is that of a sum of samples, whose
// gain is x/sin x of the integral's, x = pi 70/48000 (geometric series).
// Elsewhere that changes nothing.
var bessel = []struct {
	index float64
	n     int
	j     float64
}{
	{0.5, 0, 0.9384698072}, {0.5, 1, 0.2422684577}, {0.5, 2, 0.0306040235},
	{1, 0, 0.7651976866}, {1, 1, 0.4400505857}, {1, 2, 0.1149034849}, {1, 3, 0.0195633540},
	{2, 0, 0.2238907791}, {2, 1, 0.5767248078}, {2, 2, 0.3528340286}, {2, 3, 0.1289432495},
	{2.405, 0, -(2.405*(1+3.49837e-6) - 2.4048255577) * 0.5191474973},
	{5, 0, -0.1775967713}, {5, 1, -0.3275791376}, {5, 2, 0.0465651163}, {5, 3, 0.3648312306}, {5, 4, 0.3912323605}, {5, 5, 0.2611405461},
	{8, 0, 0.1716508071}, {8, 1, 0.2346363469}, {8, 2, -0.1129917204}, {8, 3, -0.2911322071}, {8, 8, 0.2234549864},
}

func TestFrequencyModulationReadsTheBesselTables(t *testing.T) {
	const carrier, modulator = 1000, 70
	for _, index := range []float64{0.5, 1, 2, 2.405, 5, 8} {
		th := newTheory(t, "soot")
		th.put("clapper", "oscillator", "frequency", fmt.Sprintf("%d Hz", modulator))
		th.put("bronze", "oscillator", "frequency", fmt.Sprintf("%d Hz", carrier))
		th.cord("clapper/out", "bronze/shift", fmt.Sprintf("%g Hz", index*modulator))
		th.show("bronze/out")
		th.settle()
		th.holds(fmt.Sprintf("index %g", index), -90, 0.01)
		for _, c := range bessel {
			if c.index != index {
				continue
			}
			want := 20 * math.Log10(math.Abs(c.j))
			for _, hz := range []float64{carrier + float64(c.n)*modulator, math.Abs(carrier - float64(c.n)*modulator)} {
				r := th.row(hz)
				if math.Abs(r.Level-want) > 0.01 || math.Abs(r.Found-want) > 0.01 || math.Abs(r.FoundHz-hz) > 0.01 {
					t.Errorf("J%d(%g): expected %.4f dB, found %.4f dB at %.4f Hz; the table says %.4f dB at %g Hz", c.n, index, r.Level, r.Found, r.FoundHz, want, hz)
				}
			}
		}
	}
}

func TestTheFormulaHasTheNumbersInIt(t *testing.T) {
	th := newTheory(t, "soot")
	th.put("clapper", "oscillator", "frequency", "70 Hz")
	th.put("bronze", "oscillator", "frequency", "1000 Hz")
	th.cord("clapper/out", "bronze/phase", fmt.Sprintf("%.6f deg", 1.2*180/math.Pi))
	th.show("bronze/out")
	th.settle()
	r := th.row(1070)
	// Abramowitz and Stegun, table 9.1: J1(1.2) = 0.4982890576.
	if r.Name != "bronze + clapper" || !strings.Contains(r.Formula, "J1(1.2) = 0.4983") {
		t.Errorf("the first sideband is %q, %q", r.Name, r.Formula)
	}
}

func TestStillSoundsAreWhatTheoryExpects(t *testing.T) {
	for _, c := range []struct {
		name  string
		at    string
		build func(th *theory)
		hz    float64
		db    float64
		why   string // where the level comes from
	}{
		{"amplitude modulation", "lamp/out", func(th *theory) {
			th.put("tone", "oscillator", "frequency", "1000 Hz")
			th.put("shutter", "oscillator", "frequency", "90 Hz")
			th.put("lamp", "amplifier", "level", "0 dB")
			th.cord("tone/out", "lamp/in", "")
			th.cord("shutter/out", "lamp/level", "0.4 x")
		}, 1090, 20 * math.Log10(0.2), "(0.6 + 0.4 sin b) sin a: sidebands of 0.4/2 (common practice of radio)"},
		{"ring modulation", "ring/out", func(th *theory) {
			th.put("tone", "oscillator", "frequency", "1000 Hz")
			th.put("voice", "oscillator", "frequency", "170 Hz")
			th.put("ring", "ring")
			th.cord("tone/out", "ring/carrier", "")
			th.cord("voice/out", "ring/signal", "")
		}, 1170, 20 * math.Log10(0.5), "cos a cos b = (cos(a-b) + cos(a+b))/2"},
		{"pulse of 30 %", "reed/out", func(th *theory) {
			th.put("reed", "oscillator", "frequency", "441 Hz", "shape", "pulse", "width", "30 %")
		}, 441 * 3, 20 * math.Log10(4/(3*math.Pi)*math.Sin(0.9*math.Pi)), "Fourier: 4/(n pi) sin(n pi d)"},
		{"saw through a still band-pass", "band/band", func(th *theory) {
			th.put("reed", "oscillator", "frequency", "220 Hz", "shape", "saw")
			th.put("band", "filter", "cutoff", "1100 Hz", "width", "Q 5")
			th.cord("reed/out", "band/in", "")
		}, 1100, 20 * math.Log10(2/(5*math.Pi)), "Fourier: 2/(n pi), and a band-pass of 0 dB in its middle"},
	} {
		th := newTheory(t, "soot")
		c.build(th)
		if th.Kind(socketOf(c.at).Module).Output(socketOf(c.at).Name) < 0 {
			t.Fatalf("%s: there is no %s; there are %v", c.name, c.at, th.Kind(socketOf(c.at).Module).Outputs)
		}
		th.show(c.at)
		th.settle()
		th.holds(c.name, -90, 0.01)
		r := th.row(c.hz)
		if math.Abs(r.Level-c.db) > 0.01 || math.Abs(r.Found-c.db) > 0.01 {
			t.Errorf("%s: %.4f dB expected, %.4f dB found at %g Hz; want %.4f: %s", c.name, r.Level, r.Found, c.hz, c.db, c.why)
		}
	}
}

// Sidebands of a filter that sways once in two seconds stand 0.5 Hz apart: they are
// told apart as soon as the sound has stood still for four seconds.
func TestAMovingFilterIsWithinATenthOfADecibel(t *testing.T) {
	th := newTheory(t, "soot")
	th.put("sway", "slow", "rate", "0.5 Hz")
	th.put("reed", "oscillator", "frequency", "220 Hz", "shape", "saw")
	th.put("band", "filter", "cutoff", "1000 Hz", "width", "Q 4")
	th.cord("reed/out", "band/in", "")
	th.cord("sway/out", "band/cutoff", "0.2 oct")
	th.show("band/band")
	th.settle()
	if th.e.sound.want == 0 {
		t.Error("nothing is too near")
	}
	th.measured(5.5)
	deep, _, _ := expect.Worst(th.e.rows, -60)
	db, _, lines := expect.Worst(th.e.rows, -50) // the strongest stands at -22 dB
	t.Logf("%d lines above -50 dB within %.4f dB, above -60 dB within %.4f dB, over %.2f s; left %.1f dB", lines, db, deep, th.e.sound.seconds, th.e.sound.rest.Level)
	if len(th.e.is.Why) > 0 || lines < 30 || db > 0.1 {
		t.Errorf("why %q, %d lines, within %.3f dB; want 30 and 0.1 dB", th.e.is.Why, lines, db)
	}
}

func TestNoiseStandsAtItsDensity(t *testing.T) {
	th := newTheory(t, "soot")
	th.put("hiss", "noise")
	th.show("hiss/out")
	th.p.set(func(w *switches) { w.average = 64 })
	th.measured(6)
	bands, worst := 0, 0.0
	for i := range th.e.rows {
		// Below 250 Hz a few seconds hold too little noise to tell a dB.
		if r := &th.e.rows[i]; r.Band && r.Hz > 250 && r.Told == expect.Read {
			bands++
			worst = max(worst, math.Abs(r.OffLevel()))
			if math.Abs(r.OffLevel()) > 4*r.Stray {
				t.Errorf("%s: %.2f dB expected, %.2f found; it strays by %.2f", r.Name, r.Level, r.Found, r.Stray)
			}
		}
	}
	t.Logf("%d thirds of an octave within %.2f dB", bands, worst)
	if bands < 15 {
		t.Errorf("%d bands were read", bands)
	}
	// The dashed line and what the bins show: both as scope.Density counts.
	m := th.p.measure
	floor := m.spectra[0].Density(m.spectra[0].NoiseFloor(500, 15000, m.rate), m.rate)
	want := 10 * math.Log10(th.e.is.Density(5000))
	t.Logf("density %.2f dB in 1 Hz expected, %.2f read as the noise floor", want, floor)
	if math.Abs(floor-want) > 0.5 {
		t.Errorf("the noise floor reads %.2f dB in 1 Hz, expected %.2f", floor, want)
	}
	if text := th.p.large.plates[ofSpectrum].(*spectrumPlate).floorText(0); !strings.Contains(text, "in 1 Hz") {
		t.Errorf("the reading says %q", text)
	}
}

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
