package leaf

import (
	"slices"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"lampblack/app/window/look"
)

// story is a leaf with three places, and what happened to them.
type story struct {
	leaf *Turning
	told []string
}

func tell(t *testing.T) *story {
	t.Helper()
	test.NewTempApp(t)
	test.ApplyTheme(t, look.Theme("paper"))
	s := &story{}
	say := func(what string) func() { return func() { s.told = append(s.told, what) } }
	s.leaf = NewTurning(func(p *Pen) {
		p.Text(look.Caps, 10, 30, "three places")
		p.Place("one", 0, 0, 50, 50).Tap = say("one")
		two := p.Place("two", 50, 0, 50, 50)
		two.Tap, two.Double = say("two"), say("two twice")
		three := p.Place("three", 100, 0, 50, 50)
		three.Step = func(n int) {
			if n > 0 {
				say("up")()
			} else {
				say("down")()
			}
		}
		three.Down = func(x, _ float32) { say("down at")() }
		three.Drag = func(x, _ float32) { say("drag")() }
		three.Up = say("let go")
	})
	w := test.NewTempWindow(t, s.leaf)
	w.SetPadded(false)
	w.Resize(fyne.NewSize(200, 60))
	return s
}

func (s *story) expect(t *testing.T, want ...string) {
	t.Helper()
	if !slices.Equal(s.told, want) {
		t.Errorf("told %q, want %q", s.told, want)
	}
	s.told = nil
}

func TestPlacesAnswerToTheMouse(t *testing.T) {
	s := tell(t)
	for _, name := range []string{"one", "two"} {
		if err := s.leaf.Click(name); err != nil {
			t.Fatal(err)
		}
	}
	s.expect(t, "one", "two")
	if err := s.leaf.DoubleClick("two"); err != nil {
		t.Fatal(err)
	}
	if s.told = slices.DeleteFunc(s.told, func(x string) bool { return x == "two" }); len(s.told) == 0 {
		t.Error("a second press in time is not told as a double one")
	}
	s.told = nil
	if err := s.leaf.Click("four"); err == nil {
		t.Error("a place that is not there was pressed")
	}
	down := &desktop.MouseEvent{}
	down.Position = fyne.NewPos(10, 10)
	s.leaf.MouseDown(down)
	up := &desktop.MouseEvent{}
	up.Position = fyne.NewPos(190, 50)
	s.leaf.MouseUp(up)
	s.expect(t) // let go elsewhere: changed one's mind
}

func TestADoublePressIsOneGestureThoughTheFirstMovesThePlace(t *testing.T) {
	test.NewTempApp(t)
	test.ApplyTheme(t, look.Theme("paper"))
	var told []string
	at := float32(100)
	var l *Turning
	l = NewTurning(func(p *Pen) {
		row := p.Place("row", 0, at, 100, 20)
		row.Tap = func() { told = append(told, "chosen"); at = 40; l.Refresh() }
		row.Double = func() { told = append(told, "entered") }
		p.Place("other", 0, at+60, 100, 20).Tap = func() { told = append(told, "other") }
	})
	w := test.NewTempWindow(t, l)
	w.SetPadded(false)
	w.Resize(fyne.NewSize(200, 200))
	if err := l.DoubleClick("row"); err != nil {
		t.Fatal(err)
	}
	if want := []string{"chosen", "entered"}; !slices.Equal(told, want) {
		t.Errorf("told %q, want %q", told, want)
	}
}

func TestADragIsToldFromDownToUp(t *testing.T) {
	s := tell(t)
	at := &desktop.MouseEvent{}
	at.Position = fyne.NewPos(110, 10)
	s.leaf.MouseDown(at)
	s.leaf.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(300, 300)}})
	at.Position = fyne.NewPos(300, 300)
	s.leaf.MouseUp(at)
	s.leaf.DragEnd()
	s.expect(t, "down at", "drag", "let go")
}

func TestPlacesAnswerToTheKeyboard(t *testing.T) {
	s := tell(t)
	s.leaf.FocusGained()
	for _, k := range []fyne.KeyName{fyne.KeyRight, fyne.KeyReturn, fyne.KeyRight, fyne.KeyReturn, fyne.KeyRight, fyne.KeyUp, fyne.KeyDown, fyne.KeyLeft, fyne.KeyLeft, fyne.KeyReturn} {
		s.leaf.TypedKey(&fyne.KeyEvent{Name: k})
	}
	s.expect(t, "one", "two twice", "up", "down", "one")
}

func TestTheWheelTurnsOnlyWhatAnswers(t *testing.T) {
	s := tell(t)
	for _, x := range []float32{120, 20} {
		at := fyne.PointEvent{Position: fyne.NewPos(x, 20)}
		s.leaf.Scrolled(&fyne.ScrollEvent{PointEvent: at, Scrolled: fyne.NewDelta(0, 10)})
	}
	s.expect(t, "up")
}

func TestKeysThatALeafDoesNotNeedGoToTheWindow(t *testing.T) {
	s := tell(t)
	c := fyne.CurrentApp().Driver().CanvasForObject(s.leaf)
	var heard []fyne.KeyName
	c.SetOnTypedKey(func(e *fyne.KeyEvent) { heard = append(heard, e.Name) })
	c.Focus(s.leaf)
	s.leaf.TypedKey(&fyne.KeyEvent{Name: fyne.KeyF1})
	s.leaf.TypedKey(&fyne.KeyEvent{Name: fyne.KeySpace})
	if !slices.Equal(heard, []fyne.KeyName{fyne.KeyF1, fyne.KeySpace}) {
		t.Errorf("the window heard %v", heard)
	}
}

func TestAFieldGivesUpTheKeyboardOnEscape(t *testing.T) {
	test.NewTempApp(t)
	f := NewField(false, "write here")
	w := test.NewTempWindow(t, f.Object())
	done := ""
	f.Done = func(text string) { done = text }
	w.Canvas().Focus(f)
	test.Type(f, "vent")
	f.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if w.Canvas().Focused() != nil || done != "vent" {
		t.Errorf("focused %v, done with %q", w.Canvas().Focused(), done)
	}
}
