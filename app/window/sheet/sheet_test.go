package sheet

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"lampblack/app/desk"
	"lampblack/app/window/look"
	"lampblack/app/window/look/golden"
	"lampblack/patch"
)

func set(v float64, unit, text string) patch.Setting {
	return patch.Setting{Value: v, Unit: unit, Text: text}
}

func out(module, name string) patch.Socket { return patch.Socket{Module: module, Name: name} }

// moth is a patch that uses most of what can be seen: probes, depths, cords
// into controls, choices.
func moth() patch.Patch {
	return patch.Patch{Name: "moth", Seed: 7, Modules: []patch.Module{
		{Name: "dust", Kind: "noise", At: at(24, 24), Settings: map[string]patch.Setting{"seed": set(4817, "", "")}},
		{Name: "reed", Kind: "filter", At: at(288, 24), Settings: map[string]patch.Setting{"cutoff": set(2100, "Hz", "2.10 kHz"), "width": set(45, "Hz", "")}},
		{Name: "wings", Kind: "amplifier", At: at(600, 24), Settings: map[string]patch.Setting{"level": set(-6, "dB", "-6.0 dB"), "depth": set(80, "%", "")}},
		{Name: "out", Kind: "output", At: at(864, 24)},
		{Name: "sway", Kind: "slow", At: at(24, 240), Settings: map[string]patch.Setting{"rate": set(0.31, "Hz", "")}},
		{Name: "beat", Kind: "oscillator", At: at(288, 264), Settings: map[string]patch.Setting{"frequency": set(23, "Hz", "23.0 Hz")}},
		{Name: "swell", Kind: "envelope", At: at(600, 240), Settings: map[string]patch.Setting{"attack": set(0.18, "s", ""), "release": set(2.4, "s", "2.4 s")}},
	}, Cords: []patch.Cord{
		{From: out("dust", "out"), To: out("reed", "in")},
		{From: out("reed", "band"), To: out("wings", "in")},
		{From: out("wings", "out"), To: out("out", "left")},
		{From: out("sway", "out"), To: out("reed", "cutoff"), Depth: set(0.8, "oct", "+0.8 oct")},
		{From: out("beat", "out"), To: out("wings", "modulation")},
		{From: out("swell", "out"), To: out("wings", "level"), Depth: set(1, "x", "")},
	}}
}

// bench is a session with a patch on it.
func bench(t *testing.T, theme string, p patch.Patch) *desk.Session {
	t.Helper()
	test.NewTempApp(t)
	test.ApplyTheme(t, look.Theme(theme))
	s := desk.New(desk.Options{})
	if !s.Do(desk.Edit{Name: "load", Apply: func(b *desk.Bench) error { b.Patch = p; return nil }}) {
		t.Fatal(s.Notices(desk.AtSheet))
	}
	return s
}

// hear lets the engine run for a number of beats of the screen.
func hear(s *desk.Session, beats int) {
	left, right := make([]float64, 1600), make([]float64, 1600)
	for range beats {
		s.Engine().Block(left, right)
		look.Live.Beat()
	}
}

// laid puts a sheet on a canvas of that size.
func laid(t *testing.T, s *desk.Session, width, height float32) (*Sheet, test.WindowlessCanvas) {
	t.Helper()
	sh := New(s)
	w := test.NewTempWindow(t, container.NewStack(canvas.NewRectangle(look.Now().Ground), sh))
	w.SetPadded(false)
	w.Resize(fyne.NewSize(width, height))
	t.Cleanup(sh.Stop)
	return sh, w.Canvas().(test.WindowlessCanvas)
}

func TestTheSheetLooksAsItShould(t *testing.T) {
	for _, theme := range []string{"soot", "paper"} {
		for _, size := range []struct {
			name          string
			width, height float32
			scale         float32
		}{{"", 1100, 560, 1}, {"-small-fine", 700, 360, 2}} {
			t.Run(theme+size.name, func(t *testing.T) {
				s := bench(t, theme, moth())
				s.SetProbe(desk.ProbeA, out("reed", "band"))
				s.SetProbe(desk.ProbeB, out("wings", "out"))
				s.NoteOn(0, 1)
				s.Select(desk.Selection{Modules: []string{"reed"}, Cord: -1, Note: -1})
				sh, c := laid(t, s, size.width, size.height)
				c.SetScale(size.scale)
				recorded(sh)
				golden.Check(t, "sheet-"+theme+size.name+".png", c)
			})
		}
	}
}

// recorded gives the cords signals written from their formulas: a picture then
// does not depend on how the engine computes them.
func recorded(sh *Sheet) {
	random := rand.New(rand.NewPCG(1, 2))
	signals := map[patch.Socket]func(i int) float64{
		out("dust", "out"):  func(int) float64 { return 2*random.Float64() - 1 },
		out("reed", "band"): func(i int) float64 { return 0.4 * sine(2100)(i) * (1 + 0.5*sine(300)(i)) },
		out("wings", "out"): func(i int) float64 { return 0.2 * sine(2100)(i) * (1 + 0.8*sine(230)(i)) },
		out("sway", "out"):  sine(0.31),
		out("beat", "out"):  sine(23),
		out("swell", "out"): func(i int) float64 {
			return 0.3 + 0.7*math.Exp(-float64(i%96000)/20000)
		},
	}
	tapes := map[patch.Socket]*tape{}
	for at := range signals {
		tapes[at] = &tape{}
		sh.traces[at] = &signal{from: tapes[at]}
	}
	sh.update()
	for range 130 {
		for at, f := range signals {
			if at.Module != "dust" {
				tapes[at].add(1600, f)
			}
		}
		tapes[out("dust", "out")].add(1600, signals[out("dust", "out")])
		look.Live.Beat()
	}
}

func TestWhatIsSeenWhileACordIsDrawn(t *testing.T) {
	s := bench(t, "paper", moth())
	sh, c := laid(t, s, 1100, 560)
	m := &mouse{t: t, sh: sh}
	sh.MouseDown(m.event(m.socket("beat", "out", true), desktop.MouseButtonPrimary, 0))
	ev := &fyne.DragEvent{}
	p := m.socket("reed", "peak", false)
	ev.Position = sh.view.at(at(p.X+40, p.Y))
	sh.Dragged(ev)
	golden.Check(t, "joining-paper.png", c)
}

func TestTheListOfKinds(t *testing.T) {
	s := bench(t, "soot", moth())
	sh, c := laid(t, s, 900, 560)
	s.Notify(desk.Notice{Place: desk.AtSheet, Text: "width is 0 Hz; it must be 1 Hz to 20 kHz; nothing was changed", Fault: true})
	key(sh, fyne.KeyInsert)
	sh.list.few()
	golden.Check(t, "list-soot.png", c)
}

func TestAnEmptySheet(t *testing.T) {
	s := bench(t, "paper", patch.Patch{})
	_, c := laid(t, s, 700, 300)
	golden.Check(t, "empty-paper.png", c)
}

func TestACordShowsItsOwnSignal(t *testing.T) {
	s := bench(t, "soot", moth())
	sh, _ := laid(t, s, 1100, 560)
	hear(s, 40)
	beat := sh.traces[out("beat", "out")]
	if beat == nil || beat.Range != 1 {
		t.Fatalf("the trace of beat is %+v", beat)
	}
	// 23.0 Hz at 48 kHz: a period is 2,087 samples.
	rises := slices.Collect(rises(beat.Line))
	if len(rises) < 3 {
		t.Fatalf("it rises %d times", len(rises))
	}
	if period := float64(rises[len(rises)-1]-rises[1]) / float64(len(rises)-2); math.Abs(period-48000./23) > 2 {
		t.Errorf("its period is %.1f samples, that of 23 Hz is %.1f", period, 48000./23)
	}
	if swell := sh.traces[out("swell", "out")]; swell == nil {
		t.Error("swell has no trace")
	} else if _, most, _ := look.Extent(swell.Line); most != 0 {
		t.Errorf("without a note the envelope shows %g", most)
	}
}

// Many patches have an "out": that alone does not make them the same work.
func TestAnotherPatchThatComesToTheBenchIsSeenWhole(t *testing.T) {
	test.NewTempApp(t)
	s := desk.New(desk.Options{})
	bench := func(kind string, names ...string) {
		s.Do(desk.Edit{Name: "put a patch on the bench", Apply: func(b *desk.Bench) error {
			b.Patch = patch.Patch{Modules: []patch.Module{{Name: "out", Kind: "output", At: patch.Point{X: 900}}}}
			for i, name := range names {
				b.Patch.Modules = append(b.Patch.Modules, patch.Module{Name: name, Kind: kind, At: patch.Point{X: float64(240 * i), Y: 400}})
			}
			return nil
		}})
	}
	bench("noise", "dust", "sand", "rain")
	sh, c := laid(t, s, 600, 400)
	sh.Zoom(4)
	bench("oscillator", "string", "edge", "drip", "plip")
	c.Capture() // drawn, as the screen does
	if all, seen := sh.layout.bounds(), sh.view.seen(); all.X0 < seen.X0 || all.X1 > seen.X1 || all.Y0 < seen.Y0 || all.Y1 > seen.Y1 {
		t.Errorf("the patch lies in %+v, %+v is seen", all, seen)
	}
	sh.Zoom(4)
	near := sh.view.zoom
	s.Do(desk.RemoveModules("plip"))
	if sh.view.zoom != near {
		t.Error("an edit of the same patch moves the view")
	}
}

// What is out of sight for a minute loses its renderer (fyne's cache): the sheet
// behind a large instrument must not lose sight of the patch with it.
func TestTheSheetFollowsAfterALongTimeOutOfSight(t *testing.T) {
	s := bench(t, "soot", moth())
	sh := New(s)
	test.NewTempWindow(t, sh).Resize(fyne.NewSize(800, 400))
	test.WidgetRenderer(sh).Destroy()
	edit, name := desk.AddModule("noise", at(0, 480), s.Patch())
	s.Do(edit)
	if sh.layout.block(name) == nil {
		t.Errorf("the sheet does not know %q, which was added after its drawing was let go", name)
	}
}
