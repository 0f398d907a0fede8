package sheet

import (
	"math"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"lampblack/app/desk"
	"lampblack/patch"
)

// mouse is a hand on a sheet, working in places of the sheet.
type mouse struct {
	t  *testing.T
	sh *Sheet
	at fyne.Position
}

func (m *mouse) event(p Point, b desktop.MouseButton, mod fyne.KeyModifier) *desktop.MouseEvent {
	ev := &desktop.MouseEvent{Button: b, Modifier: mod}
	ev.Position = m.sh.view.at(p)
	m.at = ev.Position
	return ev
}

func (m *mouse) click(p Point, mod fyne.KeyModifier) {
	ev := m.event(p, desktop.MouseButtonPrimary, mod)
	m.sh.MouseDown(ev)
	m.sh.MouseUp(ev)
}

func (m *mouse) drag(from, to Point) {
	m.sh.MouseDown(m.event(from, desktop.MouseButtonPrimary, 0))
	end := m.sh.view.at(to)
	for i := 1; i <= 8; i++ { // in steps, as a hand does
		ev := &fyne.DragEvent{}
		part := float32(i) / 8
		ev.Position = fyne.NewPos(m.at.X+(end.X-m.at.X)*part, m.at.Y+(end.Y-m.at.Y)*part)
		m.sh.Dragged(ev)
	}
	m.sh.MouseUp(&desktop.MouseEvent{Button: desktop.MouseButtonPrimary})
	m.sh.DragEnd()
}

func (m *mouse) socket(module, name string, output bool) Point {
	m.t.Helper()
	p, ok := m.sh.layout.block(module).end(name, output)
	if !ok {
		m.t.Fatalf("%s / %s is not drawn", module, name)
	}
	return p
}

func key(sh *Sheet, name fyne.KeyName) { sh.TypedKey(&fyne.KeyEvent{Name: name}) }

func ctrl(sh *Sheet, name fyne.KeyName) {
	sh.TypedShortcut(&desktop.CustomShortcut{KeyName: name, Modifier: fyne.KeyModifierShortcutDefault})
}

func cordsOf(s *desk.Session) string {
	var all []string
	for _, c := range s.Patch().Cords {
		text := c.From.String() + " -> " + c.To.String()
		if c.Depth.Unit != "" {
			text += " " + c.Depth.Signed()
		}
		all = append(all, text)
	}
	return strings.Join(all, "\n")
}

// start is a patch of three modules that nothing joins.
func start(t *testing.T) (*desk.Session, *Sheet, *mouse) {
	t.Helper()
	s := bench(t, "soot", patch.Patch{Modules: []patch.Module{
		{Name: "dust", Kind: "noise", At: at(24, 24)},
		{Name: "reed", Kind: "filter", At: at(312, 24)},
		{Name: "sway", Kind: "slow", At: at(24, 240)},
	}})
	sh, _ := laid(t, s, 900, 560)
	return s, sh, &mouse{t: t, sh: sh}
}

func TestACordIsDrawnByMouseOrByKeyboard(t *testing.T) {
	const want = "sway / out -> reed / cutoff +1 oct"
	t.Run("mouse", func(t *testing.T) {
		s, _, m := start(t)
		m.drag(m.socket("sway", "out", true), m.socket("reed", "cutoff", false))
		if got := cordsOf(s); got != want {
			t.Errorf("drawn: %q, want %q", got, want)
		}
		if s.Selection().Cord != 0 {
			t.Error("the cord whose depth is to be set is not chosen")
		}
	})
	t.Run("mouse, dropped anywhere on the control's line", func(t *testing.T) {
		s, _, m := start(t)
		p := m.socket("reed", "cutoff", false)
		m.drag(m.socket("sway", "out", true), at(p.X+90, p.Y+2))
		if got := cordsOf(s); got != want {
			t.Errorf("drawn: %q, want %q", got, want)
		}
	})
	t.Run("mouse, from the control to the output", func(t *testing.T) {
		s, sh, m := start(t)
		p := m.socket("reed", "cutoff", false)
		sh.MouseMoved(m.event(at(p.X+50, p.Y), 0, 0))
		m.drag(p, m.socket("sway", "out", true))
		if got := cordsOf(s); got != want {
			t.Errorf("drawn: %q, want %q", got, want)
		}
	})
	t.Run("keyboard", func(t *testing.T) {
		s, sh, _ := start(t)
		key(sh, fyne.KeyDown) // from nothing to the first module
		key(sh, fyne.KeyDown)
		if s.Chosen() != "sway" {
			t.Fatalf("chosen is %q", s.Chosen())
		}
		ctrl(sh, fyne.KeyJ)
		sh.list.SetText("reed cut")
		sh.list.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
		if got := cordsOf(s); got != want {
			t.Errorf("joined: %q, want %q", got, want)
		}
		if sh.list != nil {
			t.Error("the list is still open")
		}
	})
}

func TestTheSheetSaysHowSomethingIsHeard(t *testing.T) {
	s, sh, m := start(t)
	add, name := desk.AddModule("output", at(600, 24), s.Patch())
	s.Do(add)
	if text := sh.about(); !strings.Contains(text, "nothing is heard yet") {
		t.Errorf("of a patch that gives out nothing the sheet says %q", text)
	}
	m.drag(m.socket("dust", "out", true), m.socket(name, "left", false))
	if sh.hover.what != onInput || sh.hover.socket != out(name, "left") {
		t.Errorf("after the drop the pointer is over %+v", sh.hover)
	}
	sh.MouseOut()
	if text := sh.about(); strings.Contains(text, "nothing is heard") {
		t.Errorf("of a patch that is heard the sheet says %q", text)
	}
	if s.Probe(desk.ProbeA) != out("dust", "out") {
		t.Errorf("probe A is at %v", s.Probe(desk.ProbeA))
	}
}

func TestARefusedCordSaysWhy(t *testing.T) {
	s, _, m := start(t)
	for range 2 {
		p := m.socket("sway", "shape", false)
		m.drag(m.socket("dust", "out", true), at(p.X+60, p.Y))
	}
	notices := s.Notices(desk.AtSheet)
	if len(s.Patch().Cords) != 1 || len(notices) != 1 || !strings.Contains(notices[0].Text, "shape") || !strings.Contains(notices[0].Text, "already") {
		t.Errorf("cords %q, notices %v", cordsOf(s), notices)
	}
}

func TestACordDroppedOnTheGroundIsNone(t *testing.T) {
	s, sh, m := start(t)
	m.drag(m.socket("sway", "out", true), at(600, 500))
	if len(s.Patch().Cords) != 0 || len(s.Notices(desk.AtSheet)) != 0 || sh.open != "" {
		t.Errorf("cords %q, notices %v, open %q", cordsOf(s), s.Notices(desk.AtSheet), sh.open)
	}
}

func TestADragMovesOntoTheLinesAndIsOneEdit(t *testing.T) {
	s, _, m := start(t)
	m.drag(at(100, 40), at(171, 135))
	got := s.Patch().Module("dust").At
	if got != at(96, 120) {
		t.Errorf("dragged by 71, 95 it stands at %v, want the grid's 96, 120", got)
	}
	m.drag(at(171, 135), at(219, 135))
	s.Undo()
	if got := s.Patch().Module("dust").At; got != at(96, 120) {
		t.Errorf("undo of the second drag leads to %v", got)
	}
	s.Undo()
	if got := s.Patch().Module("dust").At; got != at(24, 24) {
		t.Errorf("one step of undo leads to %v", got)
	}
}

func TestAStepAfterADragIsAnEditOfItsOwn(t *testing.T) {
	s, sh, m := start(t)
	m.drag(at(100, 40), at(171, 135))
	ctrl(sh, fyne.KeyRight)
	s.Undo()
	if got := s.Patch().Module("dust").At; got != at(96, 120) {
		t.Errorf("undo of the step leads to %v, the drag led to 96, 120", got)
	}
}

func TestSeveralModulesMoveTogether(t *testing.T) {
	s, sh, m := start(t)
	m.click(at(100, 40), 0)
	m.click(at(100, 260), fyne.KeyModifierShift)
	if got := strings.Join(s.Selection().Modules, " "); got != "dust sway" {
		t.Fatalf("chosen: %q", got)
	}
	ctrl(sh, fyne.KeyRight)
	ctrl(sh, fyne.KeyDown)
	if a, b := s.Patch().Module("dust").At, s.Patch().Module("sway").At; a != at(48, 48) || b != at(48, 264) {
		t.Errorf("moved to %v and %v", a, b)
	}
	m.drag(at(150, 60), at(198, 60))
	if a, b := s.Patch().Module("dust").At, s.Patch().Module("sway").At; a != at(96, 48) || b != at(96, 264) {
		t.Errorf("dragged to %v and %v", a, b)
	}
}

func TestAFrameChooses(t *testing.T) {
	s, sh, m := start(t)
	sh.MouseDown(m.event(at(5, 5), desktop.MouseButtonPrimary, fyne.KeyModifierShift))
	ev := &fyne.DragEvent{}
	ev.Position = sh.view.at(at(200, 300))
	sh.Dragged(ev)
	sh.DragEnd()
	if got := strings.Join(s.Selection().Modules, " "); got != "dust sway" {
		t.Errorf("the frame chose %q", got)
	}
}

func TestAClickOnAnOutputMeasuresThere(t *testing.T) {
	s, sh, m := start(t)
	m.click(m.socket("reed", "band", true), 0)
	m.click(m.socket("dust", "out", true), fyne.KeyModifierShift)
	if a, b := s.Probe(desk.ProbeA), s.Probe(desk.ProbeB); a != out("reed", "band") || b != out("dust", "out") {
		t.Errorf("A at %v, B at %v", a, b)
	}
	right := m.event(m.socket("reed", "low", true), desktop.MouseButtonSecondary, 0)
	sh.MouseDown(right)
	sh.MouseUp(right)
	if b := s.Probe(desk.ProbeB); b != out("reed", "low") {
		t.Errorf("the other button puts B at %v", b)
	}
	m.click(m.socket("reed", "band", true), 0)
	if a := s.Probe(desk.ProbeA); a != (patch.Socket{}) {
		t.Errorf("a second click leaves A at %v", a)
	}
	s.Select(desk.Selection{Modules: []string{"reed"}, Cord: -1, Note: -1})
	ctrl(sh, fyne.Key1)
	ctrl(sh, fyne.Key1)
	if a := s.Probe(desk.ProbeA); a != out("reed", "band") {
		t.Errorf("Ctrl+1 twice puts A at %v", a)
	}
}

func TestTheGroundPansAndTheWheelZooms(t *testing.T) {
	_, sh, m := start(t)
	before := sh.view.off
	m.drag(at(600, 400), at(550, 380))
	if after := sh.view.off; after.X-before.X < 49 || after.Y-before.Y < 19 {
		t.Errorf("panned from %v to %v", before, after)
	}
	hand := held
	t.Cleanup(func() { held = hand })
	held = func() fyne.KeyModifier { return fyne.KeyModifierShortcutDefault }
	p := at(312, 24)
	pos := sh.view.at(p)
	ev := &fyne.ScrollEvent{Scrolled: fyne.NewDelta(0, 10)}
	ev.Position = pos
	zoom := sh.view.zoom
	sh.Scrolled(ev)
	if sh.view.zoom <= zoom {
		t.Error("it did not zoom")
	}
	if now := sh.view.at(p); now.Subtract(pos).X > 1 || now.Subtract(pos).Y > 1 {
		t.Errorf("what was under the pointer went from %v to %v", pos, now)
	}
	ctrl(sh, fyne.Key0)
	if seen := sh.view.seen(); !seen.holds(at(24, 24)) || !seen.holds(at(460, 200)) {
		t.Errorf("after fitting %v is seen", seen)
	}
}

func TestDeleteTakesWhatIsChosen(t *testing.T) {
	s, sh, m := start(t)
	m.drag(m.socket("sway", "out", true), m.socket("reed", "cutoff", false))
	key(sh, fyne.KeyDelete)
	if len(s.Patch().Cords) != 0 {
		t.Error("the chosen cord is still there")
	}
	m.click(at(100, 260), 0)
	key(sh, fyne.KeyDelete)
	if s.Patch().Module("sway") != nil {
		t.Error("the chosen module is still there")
	}
	s.Undo()
	if s.Patch().Module("sway") == nil {
		t.Error("undo does not bring it back")
	}
}

func TestPageKeysGoThroughCords(t *testing.T) {
	s := bench(t, "soot", moth())
	sh, _ := laid(t, s, 1100, 560)
	s.Select(desk.Selection{Modules: []string{"reed"}, Cord: -1, Note: -1})
	var visited []int
	for range 4 {
		key(sh, fyne.KeyPageDown)
		visited = append(visited, s.Selection().Cord)
	}
	if visited[0] != 0 || visited[1] != 1 || visited[2] != 3 || visited[3] != 0 {
		t.Errorf("of reed's cords 0, 1 and 3 it visits %v", visited)
	}
}

func TestAModuleIsAddedByTyping(t *testing.T) {
	s, sh, _ := start(t)
	key(sh, fyne.KeyInsert)
	if sh.list == nil || len(sh.list.shown) < 10 {
		t.Fatal("no list of kinds")
	}
	sh.list.SetText("ampl")
	sh.list.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	m := s.Patch().Module("amplifier")
	if m == nil || s.Chosen() != "amplifier" {
		t.Fatalf("chosen is %q", s.Chosen())
	}
	if got := snapped(m.At); got != m.At {
		t.Errorf("it stands at %v, off the grid", m.At)
	}
	for _, b := range sh.layout.blocks {
		if b.name != m.Name && b.box.meets(sh.layout.block(m.Name).box) {
			t.Errorf("it covers %s", b.name)
		}
	}
	key(sh, fyne.KeyInsert)
	sh.list.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if sh.list != nil || len(s.Patch().Modules) != 4 {
		t.Error("Escape added something or left the list open")
	}
	key(sh, fyne.KeyInsert)
	sh.list.SetText("gramophone")
	sh.list.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if sh.list == nil || len(s.Patch().Modules) != 4 {
		t.Error("Enter took something that is not there")
	}
}

func TestAModuleIsRenamedInPlace(t *testing.T) {
	s, sh, m := start(t)
	m.click(at(100, 40), 0)
	key(sh, fyne.KeyF2)
	if sh.naming == nil || sh.naming.Text != "dust" {
		t.Fatal("no name is being written")
	}
	sh.naming.SetText("mast wind")
	sh.naming.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if s.Patch().Module("mast wind") == nil || s.Chosen() != "mast wind" || sh.naming != nil {
		t.Errorf("chosen is %q", s.Chosen())
	}
	sh.DoubleTapped(&fyne.PointEvent{Position: sh.view.at(at(100, 40))})
	sh.naming.SetText("sway") // another module's
	sh.naming.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if s.Patch().Module("mast wind") == nil || len(s.Notices(desk.AtSheet)) == 0 {
		t.Error("a name that is taken was accepted, or refused without a word")
	}
	s.Dismiss(desk.AtSheet)
	key(sh, fyne.KeyF2)
	sh.naming.SetText("x")
	sh.naming.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if s.Patch().Module("mast wind") == nil {
		t.Error("Escape took the name")
	}
}

func TestEverySocketNamesItself(t *testing.T) {
	_, sh, m := start(t)
	for _, c := range []struct {
		module, name string
		output       bool
		want         string
	}{{"reed", "in", false, "filtered"}, {"reed", "band", true, "Band-pass"}, {"reed", "cutoff", false, "corner"}} {
		ev := m.event(m.socket(c.module, c.name, c.output), 0, 0)
		sh.MouseMoved(ev)
		if got := sh.about(); !strings.Contains(got, c.module+" / "+c.name) || !strings.Contains(got, c.want) {
			t.Errorf("over %s / %s it says %q", c.module, c.name, got)
		}
	}
}

func TestADroppedFileFindsItsModule(t *testing.T) {
	_, sh, _ := start(t)
	pos := sh.view.at(at(100, 40)).Add(fyne.CurrentApp().Driver().AbsolutePositionForObject(sh))
	if module, _ := sh.Under(pos); module != "dust" {
		t.Errorf("under the pointer lies %q", module)
	}
	pos = sh.view.at(at(603, 399)).Add(fyne.CurrentApp().Driver().AbsolutePositionForObject(sh))
	if module, p := sh.Under(pos); module != "" || p != at(600, 408) {
		t.Errorf("on the ground lies %q, %v", module, p)
	}
}

func TestKeysThatTheSheetHasNoUseForGoToTheWindow(t *testing.T) {
	_, sh, _ := start(t)
	var heard []string
	fyne.CurrentApp().Driver().CanvasForObject(sh).SetOnTypedKey(func(ev *fyne.KeyEvent) { heard = append(heard, string(ev.Name)) })
	for _, name := range []fyne.KeyName{fyne.KeySpace, fyne.KeyF1, fyne.KeyEscape, fyne.KeyDown} {
		key(sh, name)
	}
	if got := strings.Join(heard, " "); got != "Space F1 Escape" {
		t.Errorf("the window heard %q", got)
	}
}

func TestOnlyWhatIsSeenIsDrawn(t *testing.T) {
	s := bench(t, "soot", *crowd(1000))
	sh, _ := laid(t, s, 1100, 700)
	sh.look(view{zoom: 1, off: at(2000, 2000), top: sh.view.top, size: sh.view.size})
	if n := len(sh.drawn.objects); n > 1500 {
		t.Errorf("%d objects are drawn at a zoom of 1", n)
	}
	if n := len(sh.drawn.seen); n == 0 || n > 60 {
		t.Errorf("%d traces are drawn at a zoom of 1", n)
	}
	sh.Fit()
	if n := len(sh.drawn.seen); n > 0 {
		t.Errorf("%d traces are drawn when nobody can see them", n)
	}
}

// BenchmarkBeat is what the live traces of a common patch cost at each of 30
// beats a second, without painting.
func BenchmarkBeat(b *testing.B) {
	test.NewTempApp(b)
	s := desk.New(desk.Options{})
	s.Do(desk.Edit{Name: "load", Apply: func(b *desk.Bench) error { b.Patch = moth(); return nil }})
	sh := New(s)
	test.WidgetRenderer(sh)
	sh.Resize(fyne.NewSize(1100, 700))
	left, right := make([]float64, 1600), make([]float64, 1600)
	for b.Loop() {
		b.StopTimer()
		s.Engine().Block(left, right)
		b.StartTimer()
		sh.beat()
	}
	b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N), "µs/beat")
}

// BenchmarkPan1000 is one step of panning over a sheet of 1,000 modules, of
// which about 20 are seen, without painting.
func BenchmarkPan1000(b *testing.B) {
	test.NewTempApp(b)
	s := desk.New(desk.Options{})
	s.Do(desk.Edit{Name: "load", Apply: func(b *desk.Bench) error { b.Patch = *crowd(1000); return nil }})
	sh := New(s)
	test.WidgetRenderer(sh)
	sh.Resize(fyne.NewSize(1100, 700))
	x := 0.0
	for b.Loop() {
		x = math.Mod(x+3, 3000)
		sh.look(view{zoom: 1, off: at(1000+x, 1000), top: sh.view.top, size: sh.view.size})
	}
}
