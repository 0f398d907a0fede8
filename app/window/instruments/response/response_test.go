package response

import (
	"bytes"
	"encoding/csv"
	"image/png"
	"math"
	"strconv"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"lampblack/app/desk"
	"lampblack/app/probing"
	"lampblack/app/window/leaf"
	"lampblack/app/window/look/golden"
	"lampblack/app/window/plate"
	"lampblack/app/window/windowtest"
	"lampblack/patch"
	"lampblack/scope/sounding"
)

// bench puts a reed through a filter, an envelope, and a saturation, of The
// Glasshouse's organ.
func bench(t testing.TB, theme string) (*windowtest.Bench, *Plate) {
	b := windowtest.New(t, theme)
	for _, m := range []struct {
		kind, name string
		settings   []string
	}{
		{"oscillator", "reed", []string{"shape", "saw", "frequency", "110 Hz"}},
		{"filter", "pane", []string{"cutoff", "900 Hz", "width", "300 Hz"}},
		{"saturation", "rust", []string{"drive", "12 dB"}},
		{"envelope", "breath", []string{"attack", "50 ms", "decay", "0.1 s", "sustain", "60 %", "release", "0.2 s"}},
		{"noise", "wind", nil},
		{"output", "output", nil},
	} {
		e, name := desk.AddModule(m.kind, patch.Point{X: 10, Y: 10}, b.Patch())
		b.Do(e)
		if name != m.name {
			b.Do(desk.RenameModule(name, m.name))
		}
		for i := 0; i < len(m.settings); i += 2 {
			set(t, b, m.name, m.settings[i], m.settings[i+1])
		}
	}
	for _, c := range [][4]string{{"reed", "out", "pane", "in"}, {"pane", "low", "rust", "in"}, {"rust", "out", "output", "left"}} {
		b.Do(desk.Join(patch.Socket{Module: c[0], Name: c[1]}, patch.Socket{Module: c[2], Name: c[3]}, patch.Setting{}))
	}
	b.SetProbe(desk.ProbeA, patch.Socket{Module: "pane", Name: "low"})
	p := New(b.Session, func(func()) {})
	choose(b, "pane")
	return b, p
}

func set(t testing.TB, b *windowtest.Bench, module, control, text string) {
	t.Helper()
	v, err := patch.ParseSetting(text, b.Kind(module).Control(control))
	if err != nil || !b.Do(desk.SetControl(module, control, v)) {
		t.Fatalf("%s %s: %v", control, text, err)
	}
}

func choose(b *windowtest.Bench, name string) {
	b.Select(desk.Selection{Modules: []string{name}, Cord: -1, Note: -1})
}

// answered waits until the newest question is answered.
func answered(b *windowtest.Bench, p *Plate) {
	b.Until("the answer", func() bool {
		done := p.shown.measured || p.shown.unmeasured != "" || p.shown.form == probing.Words || p.shown.by == notMeasured
		return !p.compute.busy && !p.measure.busy && p.shown.same(p.asked) && done
	})
}

func TestPictures(t *testing.T) {
	for _, theme := range windowtest.Themes {
		b, p := bench(t, theme)
		host := leaf.New(func(pen *leaf.Pen) {
			p.Write(pen, plate.Box{X: 12, Y: 12, Width: pen.Width - 24, Height: pen.Height - 24})
		})
		w := b.Show(host, 620, 400)
		p.Show(true)
		for _, c := range []struct {
			name, module string
			change       func(s *settings)
		}{
			{"filter", "pane", func(*settings) {}},
			{"delay", "pane", func(s *settings) { s.beside = withDelay }},
			{"curve", "rust", func(*settings) {}},
			{"sweep", "rust", func(s *settings) { s.form, s.by, s.beside = 1, bySweep20, levelAlone }},
			{"shape", "breath", func(*settings) {}},
			{"cycle", "reed", func(*settings) {}},
			{"words", "wind", func(*settings) {}},
			{"path", "pane", func(s *settings) { s.whole = true }},
		} {
			p.set = usual()
			if c.name == "cycle" { // without a jump: how it is rounded is the oscillator's matter
				set(t, b, "reed", "shape", "triangle")
			}
			choose(b, c.module)
			p.change(c.change)
			answered(b, p)
			if c.name == "filter" { // a drag, beside what was kept
				p.keep(true)
				set(t, b, "pane", "cutoff", "2.5 kHz")
				answered(b, p)
			}
			host.Refresh()
			golden.Check(t, c.name+"-"+theme+".png", w.Canvas())
			p.keep(false)
		}
	}
}

// A Butterworth low-pass is 3.01 dB down at its cutoff (Butterworth 1930), which
// the bilinear transform leaves in its place.
func TestTheReadingFollowsADrag(t *testing.T) {
	b, p := bench(t, "soot")
	p.Show(true)
	set(t, b, "pane", "width", "Q 0.7071")
	for _, c := range []struct{ cutoff, want string }{{"500 Hz", "at 500.0 Hz"}, {"2 kHz", "at 2.000 kHz"}} {
		set(t, b, "pane", "cutoff", c.cutoff)
		answered(b, p)
		one, two := p.Reading()
		if !strings.Contains(one, "3 dB from the low end "+c.want) {
			t.Errorf("of %s it reads %q", c.cutoff, one)
		}
		if !strings.HasPrefix(two, "computed against measured: under 0.0001 dB at worst, 20 Hz to 18.0 kHz") {
			t.Errorf("of %s it says %q", c.cutoff, two)
		}
	}
}

// The newest question wins: many changes while one is being answered end at the
// last of them.
func TestTheNewestQuestionWins(t *testing.T) {
	b, p := bench(t, "soot")
	p.Show(true)
	for _, hz := range []string{"300 Hz", "400 Hz", "500 Hz", "600 Hz", "700 Hz"} {
		set(t, b, "pane", "cutoff", hz)
	}
	set(t, b, "pane", "width", "Q 5")
	answered(b, p)
	if hz := p.shown.figures.Highest.X; math.Abs(hz/693-1) > 0.01 { // 700 sqrt(1 - 1/(2 Q^2)) = 692.9
		t.Errorf("the peak lies at %.1f Hz", hz)
	}
}

func TestNothingIsAskedWhileHidden(t *testing.T) {
	b, p := bench(t, "soot")
	p.Show(true)
	answered(b, p)
	p.Show(false)
	was := p.asked
	set(t, b, "pane", "cutoff", "3 kHz")
	if p.Beat(); !p.asked.same(was) || p.compute.busy || p.measure.busy {
		t.Error("it asks while it is hidden")
	}
	p.Show(true)
	if answered(b, p); p.asked.same(was) {
		t.Error("shown again, it does not ask for what has changed")
	}
}

func TestWhatIsKeptStays(t *testing.T) {
	b, p := bench(t, "soot")
	p.Show(true)
	answered(b, p)
	before := append([]sounding.Point(nil), p.shown.curve...)
	p.keep(true)
	set(t, b, "pane", "cutoff", "4 kHz")
	answered(b, p)
	f := p.fields()[0]
	if len(f.lines) != 2 || f.lines[0].stroke != grey || f.lines[0].points[10] != before[10] || f.lines[1].points[10] == before[10] {
		t.Errorf("beside the kept line there are %d", len(f.lines)-1)
	}
	p.keep(false)
	if len(p.fields()[0].lines) != 1 {
		t.Error("what was dropped is drawn")
	}
}

// A cord that moves the cutoff up by an octave is heeded as now, and not as set.
func TestControlsAreTakenAsSetOrAsNow(t *testing.T) {
	b, p := bench(t, "soot")
	e, name := desk.AddModule("scale", patch.Point{X: 10, Y: 10}, b.Patch())
	b.Do(e)
	set(t, b, name, "offset", "100 %") // a steady voltage of 1
	b.Do(desk.Join(patch.Socket{Module: name, Name: "out"}, patch.Socket{Module: "pane", Name: "cutoff"}, patch.Setting{Value: 1, Unit: "oct"}))
	set(t, b, "pane", "width", "Q 5")
	b.Listen(0.2)
	choose(b, "pane")
	p.Show(true)
	for _, c := range []struct {
		live bool
		hz   float64
	}{{false, 900}, {true, 1800}} {
		p.change(func(s *settings) { s.live = c.live })
		answered(b, p)
		// The peak of a low-pass lies at f sqrt(1 - 1/(2 Q^2)), 0.99 f here.
		if got := p.shown.figures.Highest.X; math.Abs(got/(0.99*c.hz)-1) > 0.005 {
			t.Errorf("as now %v: the peak lies at %.1f Hz", c.live, got)
		}
	}
}

func TestTheWholePathGoesFromTheNearestSource(t *testing.T) {
	b, p := bench(t, "soot")
	p.set.whole = true
	p.Show(true)
	answered(b, p)
	if p.shown.title != "reed / out to pane / low" || !p.shown.compared || p.shown.worst > 0.01 {
		t.Errorf("%q, %v, %.4f dB", p.shown.title, p.shown.compared, p.shown.worst)
	}
	p.change(func(s *settings) { s.toOutput = true }) // the saturation has no formula
	answered(b, p)
	if !p.shown.noFormula || p.shown.uncurved == "" || p.shown.figures.Highest.Y < 12 {
		t.Errorf("to the output: %q, %+v", p.shown.uncurved, p.shown.figures)
	}
	b.Do(desk.RemoveModules("reed"))
	answered(b, p)
	if _, two := p.Reading(); p.shown.form != probing.Words || two != "" || p.shown.why == "" {
		t.Errorf("without a source it shows %q", p.shown.why)
	}
}

func TestNumbersAndPicturesAreWritten(t *testing.T) {
	b, p := bench(t, "paper")
	p.Show(true)
	answered(b, p)
	var file bytes.Buffer
	if err := p.writeNumbers(&file); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	found := 0
	for _, row := range rows[1:] {
		if row[0] == "level" && row[1] == "measured" {
			hz, _ := strconv.ParseFloat(row[2], 64)
			db, _ := strconv.ParseFloat(row[4], 64)
			g, err := p.shown.way.Computed([]float64{hz})
			if err != nil || math.Abs(db-sounding.DB(g[0])) > 0.01 {
				t.Errorf("at %s Hz the file has %s dB", row[2], row[4])
			}
			found++
		}
	}
	if found < ringCount {
		t.Errorf("the file has %d measured points", found)
	}
	for _, module := range []string{"pane", "breath", "reed", "rust"} {
		choose(b, module)
		answered(b, p)
		for _, f := range p.Files() {
			if f.WriteAs == nil {
				continue
			}
			for _, ending := range f.Endings {
				var file bytes.Buffer
				if err := f.WriteAs(&file, ending); err != nil || file.Len() < 2000 {
					t.Errorf("%s%s: %v, %d bytes", module, ending, err, file.Len())
				}
				if ending == ".png" {
					if m, err := png.Decode(&file); err != nil || m.Bounds().Dx() < 1000 {
						t.Errorf("%s: %v", module, err)
					}
				}
			}
		}
	}
}

// Every setting tells what it is for, and turning it changes what is written in
// the margin.
func TestEverySettingDoesSomething(t *testing.T) {
	b, p := bench(t, "soot")
	p.Show(true)
	for _, module := range []string{"pane", "breath", "reed", "rust", "wind"} {
		for _, whole := range []bool{false, true} {
			p.set = usual()
			p.set.whole = whole
			choose(b, module)
			answered(b, p)
			names := map[string]bool{}
			for i, s := range p.Settings() {
				if s.Hint == "" || names[s.Name] {
					t.Errorf("%s: %q has no hint, or comes twice", module, s.Name)
				}
				names[s.Name] = true
				if s.Step == nil {
					continue
				}
				s.Step(1)
				if now := p.Settings()[i]; now.Text == s.Text {
					t.Errorf("%s: turning %q changes nothing", module, s.Name)
				}
				choose(b, module)
				p.set = usual()
				p.set.whole = whole
				p.keep(false)
			}
		}
	}
}

// The picture holds at every size, and says so little where there is no room that
// nothing lies over another.
func TestThePictureHoldsAtAnySize(t *testing.T) {
	b, p := bench(t, "soot")
	host := leaf.New(func(pen *leaf.Pen) { p.Write(pen, plate.Box{Width: pen.Width, Height: pen.Height}) })
	w := b.Show(host, 620, 400)
	p.Show(true)
	answered(b, p)
	for _, size := range []fyne.Size{{Width: 120, Height: 60}, {Width: 300, Height: 160}, {Width: 2400, Height: 1400}} {
		w.Resize(size)
		host.Refresh()
		w.Canvas().Capture()
		for _, at := range p.places {
			if at.box.X+at.box.Width > size.Width || at.box.Y+at.box.Height > size.Height {
				t.Errorf("at %v a field lies at %v", size, at.box)
			}
		}
	}
}

// What the bars and rings say of a saw are the handbook's 2/(pi n).
func TestTheBarsOfASawAreItsSeries(t *testing.T) {
	b, p := bench(t, "soot")
	p.Show(true)
	choose(b, "reed")
	answered(b, p)
	f := p.fields()[1]
	for i := range f.bars {
		want := 20 * math.Log10(2/math.Pi/f.bars[i].X)
		if math.Abs(f.bars[i].Y-want) > 0.01 || math.Abs(f.rings[i].Y-want) > 0.01 {
			t.Errorf("harmonic %g: %.3f and %.3f dB, want %.3f", f.bars[i].X, f.bars[i].Y, f.rings[i].Y, want)
		}
	}
}

// The lines are read where the picture was pressed: of a first-order low-pass at
// its corner -3.01 dB and -45 degrees (handbook), here of a DC block, so +45.
func TestTheLinesAreReadWhereThePictureIsPressed(t *testing.T) {
	b, p := bench(t, "soot")
	e, name := desk.AddModule("dcblock", patch.Point{X: 10, Y: 10}, b.Patch())
	b.Do(e)
	set(t, b, name, "cutoff", "50 Hz")
	set(t, b, name, "poles", "one")
	host := leaf.New(func(pen *leaf.Pen) { p.Write(pen, plate.Box{Width: pen.Width, Height: pen.Height}) })
	b.Show(host, 620, 400).Canvas().Capture()
	p.Show(true)
	choose(b, name)
	answered(b, p)
	at := p.places[0]
	x, y := at.place(sounding.Point{X: 50, Y: 0})
	press(p.picture, x, y)
	if math.Abs(p.set.readAt/50-1) > 0.02 {
		t.Fatalf("pressed at 50 Hz it reads at %.2f Hz", p.set.readAt)
	}
	p.readAt(50)
	one, _ := p.Reading()
	if !strings.HasPrefix(one, "at 50.00 Hz −3.0 dB, 45.0°") {
		t.Errorf("at the corner it reads %q", one)
	}
}

// press presses and lets go.
func press(l *leaf.Turning, x, y float32) {
	e := &desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(x, y)}, Button: desktop.MouseButtonPrimary}
	l.MouseDown(e)
	l.MouseUp(e)
}
