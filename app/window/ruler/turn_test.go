package ruler

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"lampblack/app/desk"
	"lampblack/patch"
)

// many shows the rulers of a recording, of which only some fit.
func many(t *testing.T, width, height float32) (*Rulers, fyne.Canvas) {
	t.Helper()
	s := bench(t, "soot")
	e, name := desk.AddModule("recording", patch.Point{}, s.Patch())
	s.Do(e)
	s.Select(desk.Selection{Modules: []string{name}, Cord: -1, Note: -1})
	p := NewRulers(s)
	return p, show1(t, p, width, height)
}

func TestTabTurnsToEveryRuler(t *testing.T) {
	p, c := many(t, 700, 200)
	if first, last := p.seen(); first != 1 || last < 2 || last >= len(p.Shown()) {
		t.Fatalf("of %d rulers %d to %d are seen", len(p.Shown()), first, last)
	}
	for i, r := range p.Shown() {
		c.Focus(r)
		if first, last := p.seen(); i+1 < first || i+1 > last {
			t.Errorf("%s has the keyboard and is not seen: it is number %d, %d to %d are", r.Name(), i+1, first, last)
		}
	}
}

func TestPagesOfRulers(t *testing.T) {
	p, c := many(t, 700, 200)
	r := p.Shown()[0]
	c.Focus(r)
	next := &desktop.CustomShortcut{KeyName: fyne.KeyPageDown, Modifier: fyne.KeyModifierShortcutDefault}
	before := 0
	for range 20 {
		first, last := p.seen()
		if first > before+1 {
			t.Fatalf("number %d is on no page", before+1)
		}
		if before = last; last == len(p.Shown()) {
			break
		}
		r.TypedShortcut(next)
	}
	if before != len(p.Shown()) {
		t.Errorf("the last page ends with number %d of %d", before, len(p.Shown()))
	}
	test.Tap(p.turning)
	if first, _ := p.seen(); first != 1 {
		t.Errorf("a click on the mark of the last page shows number %d first", first)
	}
	away := &fyne.ScrollEvent{Scrolled: fyne.NewDelta(0, -notch)}
	away.Position = fyne.NewPos(5, 50)
	_, last := p.seen()
	p.scroll.Scrolled(away) // the line about the recording goes
	p.scroll.Scrolled(away)
	if _, now := p.seen(); now != last+1 {
		t.Errorf("two notches of the wheel beside the scale come from number %d to %d", last, now)
	}
}

func TestTwoRulersStandSideBySideWhereThereIsRoom(t *testing.T) {
	p, _ := many(t, 1100, 400)
	a, b, c := p.Shown()[0], p.Shown()[1], p.Shown()[2]
	if a.Position().Y != b.Position().Y || b.Position().X < a.Size().Width || c.Position().X != a.Position().X || c.Position().Y <= a.Position().Y {
		t.Errorf("the first three stand at %v, %v, %v", a.Position(), b.Position(), c.Position())
	}
}

func TestWhatIsNotSeenAnswersToNothing(t *testing.T) {
	p, _ := many(t, 700, 200)
	for _, row := range append(p.column.Objects, NewTable(p.session, "contour")) {
		if _, pane := row.(fyne.Scrollable); pane {
			t.Fatalf("%T answers to the wheel: it would be given clicks beyond the panel", row)
		}
	}
	over := &fyne.ScrollEvent{Scrolled: fyne.NewDelta(0, notch)}
	r := p.Shown()[1]
	over.Position = r.Position().AddXY(float32(r.geometry().x(0.5)), float32(r.geometry().base))
	before := r.Written()
	p.scroll.Scrolled(over)
	if r.Written() == before || p.scroll.Offset.Y != 0 {
		t.Errorf("the wheel over the scale leaves %s at %s and turns to %g", r.Name(), r.Written(), p.scroll.Offset.Y)
	}
}
