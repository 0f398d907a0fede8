package ruler

import (
	"math"
	"strings"
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

// bench is a session with a filter that a slow oscillator sways.
func bench(t *testing.T, theme string) *desk.Session {
	t.Helper()
	test.NewTempApp(t)
	test.ApplyTheme(t, look.Theme(theme))
	s := desk.New(desk.Options{})
	must := func(e desk.Edit) {
		t.Helper()
		if !s.Do(e) {
			t.Fatalf("%s was refused: %v", e.Name, s.Notices(desk.AtSheet))
		}
	}
	for _, kind := range []string{"slow", "filter", "oscillator"} {
		e, _ := desk.AddModule(kind, patch.Point{}, s.Patch())
		must(e)
	}
	must(desk.RenameModule("slow", "sway"))
	must(desk.RenameModule("filter", "reed"))
	must(desk.Join(sway, cutoff, patch.Setting{Value: 0.8, Unit: "oct", Text: "+0.8 oct"}))
	must(desk.SetControl("reed", "cutoff", patch.Setting{Value: 2100, Unit: "Hz", Text: "2.10 kHz"}))
	must(desk.SetControl("reed", "width", patch.Setting{Value: 45, Unit: "Hz"}))
	s.Settle()
	return s
}

var (
	sway   = patch.Socket{Module: "sway", Name: "out"}
	cutoff = patch.Socket{Module: "reed", Name: "cutoff"}
)

// hear lets the engine run, so that cords have moved something.
func hear(s *desk.Session, seconds float64) {
	left, right := make([]float64, 480), make([]float64, 480)
	for range int(seconds * 100) {
		s.Engine().Block(left, right)
	}
}

func show1(t *testing.T, o fyne.CanvasObject, width, height float32) test.WindowlessCanvas {
	t.Helper()
	w := test.NewTempWindow(t, container.NewStack(canvas.NewRectangle(look.Now().Ground), o))
	w.SetPadded(false)
	w.Resize(fyne.NewSize(width, height))
	return w.Canvas().(test.WindowlessCanvas)
}

func TestRulersLookAsTheyShould(t *testing.T) {
	for _, theme := range []string{"soot", "paper"} {
		for _, size := range []struct {
			name          string
			width, height float32
			scale         float32
		}{{"", 760, 220, 1}, {"-narrow-large", 420, 230, 2}} {
			t.Run(theme+size.name, func(t *testing.T) {
				s := bench(t, theme)
				hear(s, 0.3)
				s.Engine().ResetSwept()
				hear(s, 1.1)
				s.Select(desk.Selection{Modules: []string{"reed"}, Cord: -1, Note: -1})
				p := NewRulers(s)
				c := show1(t, p, size.width, size.height)
				c.SetScale(size.scale)
				look.Live.Beat()
				golden.Check(t, "rulers-"+theme+size.name+".png", c)
			})
		}
	}
}

func ruler(t *testing.T, s *desk.Session, name string) *Ruler {
	t.Helper()
	s.Select(desk.Selection{Modules: []string{"reed"}, Cord: -1, Note: -1})
	p := NewRulers(s)
	show1(t, p, 760, 300)
	for _, r := range p.Shown() {
		if r.Name() == name {
			return r
		}
	}
	t.Fatalf("no ruler of %s", name)
	return nil
}

func press(r *Ruler, fraction float64) {
	g := r.geometry()
	at := &desktop.MouseEvent{Button: desktop.MouseButtonPrimary}
	at.Position = fyne.NewPos(float32(g.x(fraction)), float32(g.base))
	r.MouseDown(at)
}

func drag(r *Ruler, pixels float32) {
	ev := &fyne.DragEvent{}
	ev.Position = fyne.NewPos(r.grip.lastX+pixels, 10)
	r.Dragged(ev)
}

func release(r *Ruler) {
	r.MouseUp(&desktop.MouseEvent{Button: desktop.MouseButtonPrimary})
	r.DragEnd()
}

func TestADragIsOneEdit(t *testing.T) {
	s := bench(t, "soot")
	r := ruler(t, s, "cutoff")
	press(r, s.Kind("reed").Control("cutoff").Scales[0].Fraction(2100))
	for range 20 {
		drag(r, 5)
	}
	release(r)
	v, _ := s.Setting("reed", "cutoff")
	g := r.geometry()
	want := 2100 * math.Pow(1000, 100/g.scaleWidth())
	if math.Abs(v.Value/want-1) > 0.005 {
		t.Errorf("100 pixels to the right of 2.1 kHz is %v, want %g Hz", v, want)
	}
	if x := g.x(r.of.scale().Fraction(v.Value)); math.Abs(float64(r.view.index.Position().X)+0.5-x) > 1 {
		t.Errorf("the index line stands at %g, the value at %g", r.view.index.Position().X, x)
	}
	r.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	s.Undo()
	if again, _ := s.Setting("reed", "cutoff"); again.Value != v.Value {
		t.Errorf("undo of a step after it leads to %v, the first led to %v", again, v)
	}
	s.Undo()
	if v, _ := s.Setting("reed", "cutoff"); v.Value != 2100 {
		t.Errorf("one step of undo leads to %v", v)
	}
}

func TestTheHandsOnARuler(t *testing.T) {
	key := func(r *Ruler, name fyne.KeyName) { r.TypedKey(&fyne.KeyEvent{Name: name}) }
	for _, c := range []struct {
		name    string
		control string
		do      func(r *Ruler)
		want    string
	}{
		{"a click far from the line brings it there", "cutoff", func(r *Ruler) { press(r, 0); release(r) }, "20 Hz"},
		{"a double click is the default", "cutoff", func(r *Ruler) {
			g := r.geometry()
			r.DoubleTapped(&fyne.PointEvent{Position: fyne.NewPos(float32(g.x(0.5)), float32(g.base))})
		}, "1.00 kHz"},
		{"Home is the default", "peak", func(r *Ruler) { key(r, fyne.KeyRight); key(r, fyne.KeyHome) }, "0.0 dB"},
		{"an arrow is a hundredth of the ruler", "peak", func(r *Ruler) { key(r, fyne.KeyRight); key(r, fyne.KeyRight) }, "1.0 dB"},
		{"Page Down is a tenth", "peak", func(r *Ruler) { key(r, fyne.KeyPageDown) }, "−4.8 dB"},
		{"the ends hold", "peak", func(r *Ruler) {
			for range 20 {
				key(r, fyne.KeyPageUp)
			}
		}, "24.0 dB"},
		{"a notch of the wheel is a hundredth", "cutoff", func(r *Ruler) {
			ev := &fyne.ScrollEvent{Scrolled: fyne.NewDelta(0, -10)}
			ev.Position = fyne.NewPos(float32(r.geometry().x(0.5)), float32(r.geometry().base))
			r.Wheel(ev)
		}, "1.96 kHz"},
		{"a number can be typed", "cutoff", func(r *Ruler) {
			r.TypedRune('4')
			r.field.SetText("440")
			key2(r, fyne.KeyReturn)
		}, "440 Hz"},
		{"with its prefix and unit", "cutoff", func(r *Ruler) { r.Type("3.3k"); key2(r, fyne.KeyEnter) }, "3.3 kHz"},
		{"a true minus sign can be typed", "peak", func(r *Ruler) { r.Type("−6 dB"); key2(r, fyne.KeyReturn) }, "−6 dB"},
		{"Escape puts back what was there", "cutoff", func(r *Ruler) { r.Type("9"); key2(r, fyne.KeyEscape) }, "2.10 kHz"},
		{"what can't be read changes nothing", "cutoff", func(r *Ruler) { r.Type("loud"); key2(r, fyne.KeyReturn) }, "2.10 kHz"},
		{"nor does what is out of range", "cutoff", func(r *Ruler) { r.Type("5 Hz"); key2(r, fyne.KeyReturn) }, "2.10 kHz"},
		{"a click on the unit writes a width as Q", "width", func(r *Ruler) { r.of.turn() }, "Q 46.7"},
		{"again as octaves: 2 asinh(1/(2 46.67))/ln 2", "width", func(r *Ruler) { r.of.turn(); r.of.turn() }, "0.0309 oct"},
		{"and back", "width", func(r *Ruler) { r.of.turn(); r.of.turn(); r.of.turn() }, "45 Hz"},
		{"Q can be typed while Hz is shown", "width", func(r *Ruler) { r.Type("Q 20"); key2(r, fyne.KeyReturn) }, "Q 20"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := bench(t, "paper")
			r := ruler(t, s, c.control)
			c.do(r)
			if got := r.Written(); got != c.want {
				t.Errorf("%s is written %q, want %q (%s)", c.control, got, c.want, r.Message())
			}
		})
	}
}

func key2(r *Ruler, name fyne.KeyName) { r.field.TypedKey(&fyne.KeyEvent{Name: name}) }

func TestABadTextSaysWhatIsAllowedAndStaysOpen(t *testing.T) {
	s := bench(t, "soot")
	r := ruler(t, s, "cutoff")
	before := r.MinSize().Height
	r.Type("5 Hz")
	key2(r, fyne.KeyReturn)
	for _, word := range []string{"20 Hz", "20", "stays at 2.10 kHz"} {
		if !strings.Contains(r.Message(), word) {
			t.Errorf("the message %q lacks %q", r.Message(), word)
		}
	}
	if !r.typing {
		t.Error("the field was closed")
	}
	if r.MinSize().Height <= before {
		t.Error("the message has no room")
	}
	r.field.SetText("500")
	key2(r, fyne.KeyReturn)
	if r.typing || r.Message() != "" || r.Written() != "500 Hz" {
		t.Errorf("after a good text: typing %v, message %q, written %s", r.typing, r.Message(), r.Written())
	}
}

func TestFineSteps(t *testing.T) {
	withShift(t)
	s := bench(t, "soot")
	r := ruler(t, s, "cutoff")
	r.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	if v, _ := s.Setting("reed", "cutoff"); v.Value <= 2100 || v.Value > 2125 {
		t.Errorf("a fine step from 2.1 kHz leads to %v", v)
	}
	press(r, r.of.scale().Fraction(2100))
	drag(r, 100)
	release(r)
	if v, _ := s.Setting("reed", "cutoff"); v.Value > 2100*math.Pow(1000, 12/r.geometry().scaleWidth()) {
		t.Errorf("a fine drag of 100 pixels leads to %v", v)
	}
}

func TestTheBandIsWhereModulationHasBeen(t *testing.T) {
	s := bench(t, "soot")
	r := ruler(t, s, "cutoff")
	s.Do(desk.SetControl("reed", "cutoff", patch.Setting{Value: 2100, Unit: "Hz", Text: "2.1 kHz"}))
	hear(s, 0.3) // the glide to 2.1 kHz is over
	for range settleBeats {
		look.Live.Beat()
	}
	hear(s, 1.2) // more than one cycle of 1 Hz
	r.beat()
	g, scale := r.geometry(), r.of.scale()
	if !r.view.band.Visible() {
		t.Fatal("no band although a cord moves the cutoff")
	}
	// +-0.8 oct about 2.1 kHz: the design's formula for a move in octaves.
	for _, edge := range []struct{ got, want float64 }{
		{float64(r.view.band.Position().X), g.x(scale.Fraction(2100 * math.Pow(2, -0.8)))},
		{float64(r.view.band.Position().X + r.view.band.Size().Width), g.x(scale.Fraction(2100 * math.Pow(2, 0.8)))},
	} {
		if math.Abs(edge.got-edge.want) > 2 {
			t.Errorf("the band ends at %.1f, modulation at %.1f", edge.got, edge.want)
		}
	}
}

func TestNothingIsRedrawnWhileNothingMoves(t *testing.T) {
	s := bench(t, "soot")
	r := ruler(t, s, "cutoff")
	hear(s, 1.2)
	r.beat()
	at := r.view.live.Position()
	if n := testing.AllocsPerRun(10, r.beat); n > 60 {
		t.Errorf("a beat in which nothing moved allocates %g times", n)
	}
	if r.view.live.Position() != at {
		t.Error("the line moved although nothing sounded")
	}
}

func TestStopsOfAChoice(t *testing.T) {
	s := bench(t, "soot")
	s.Select(desk.Selection{Modules: []string{"oscillator"}, Cord: -1, Note: -1})
	p := NewRulers(s)
	show1(t, p, 760, 300)
	r := p.Shown()[1]
	press(r, 0.7)
	release(r)
	if r.Written() != "saw" {
		t.Errorf("at two thirds of sine, triangle, saw, pulse stands %q", r.Written())
	}
	r.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	r.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	if r.Written() != "pulse" {
		t.Errorf("beyond saw stands %q", r.Written())
	}
	if v := s.Patch().Module("oscillator").Settings["shape"]; v.Text != "pulse" {
		t.Errorf("the choice is stored as %+v, not by its word", v)
	}
}

// withShift holds Shift for the rest of a test.
func withShift(t *testing.T) {
	hand := shift
	t.Cleanup(func() { shift = hand })
	shift = func() bool { return true }
}
