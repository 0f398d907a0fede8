package strip

import (
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"lampblack/app/window/keys"
	"lampblack/app/window/look/golden"
	"lampblack/app/window/windowtest"
)

func lie(t *testing.T, theme string) (*windowtest.Bench, *Strip, fyne.Window) {
	b := windowtest.New(t, theme)
	b.Fill()
	s := New(b.Session, keys.NewHands(b.Session))
	return b, s, b.Show(s, 830, 230)
}

func TestPicture(t *testing.T) {
	for _, theme := range windowtest.Themes {
		b, s, w := lie(t, theme)
		b.EraseNote(1)
		s.choose(2)
		b.Play()
		b.Listen(0.7)
		s.beat()
		golden.Check(t, theme+".png", w.Canvas())
	}
}

func key(s *Strip, names ...fyne.KeyName) {
	for _, k := range names {
		s.TypedKey(&fyne.KeyEvent{Name: k})
	}
}

func TestANoteIsErasedAndItsRestFilled(t *testing.T) {
	b, s, _ := lie(t, "soot")
	key(s, fyne.KeyRight, fyne.KeyRight, fyne.KeyDelete)
	m := b.Bench().Memory
	if len(m.Notes) != 3 || !m.Notes[1].Rest {
		t.Fatalf("the second note is %+v, want a rest", m.Notes[1])
	}
	key(s, fyne.KeyReturn)
	if b.Armed() != 1 {
		t.Fatalf("armed rest %d", b.Armed())
	}
	s.hands.Press(keys.Place{Row: 1}) // A
	s.hands.ReleaseAll()
	if n := b.Bench().Memory.Notes[1]; n.Rest || n.Pitch != 0 {
		t.Errorf("the rest became %+v, want A4", n)
	}
	b.Undo()
	if !b.Bench().Memory.Notes[1].Rest {
		t.Error("undo did not bring the rest back")
	}
	b.Undo()
	if b.Bench().Memory.Notes[1].Rest {
		t.Error("undo did not bring the note back")
	}
}

// pull drags the mouse from a note by so much.
func pull(s *Strip, x, y, dx, dy float32) {
	at := &desktop.MouseEvent{Button: desktop.MouseButtonPrimary}
	at.Position = fyne.NewPos(x, y)
	s.MouseDown(at)
	for i := 1; i <= 4; i++ {
		p := fyne.NewPos(x+dx*float32(i)/4, y+dy*float32(i)/4)
		s.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: p}})
	}
	at.Position = fyne.NewPos(x+dx, y+dy)
	s.MouseUp(at)
}

func TestADragIsOneStepOfUndo(t *testing.T) {
	b, s, _ := lie(t, "soot")
	before := b.Bench().Memory
	x, y, w, h := s.paper.bar(before.Notes[0])
	second := s.paper.width / s.paper.seconds
	pull(s, float32(x+w/2), float32(y+h/2), float32(0.75*second), -float32(2*s.paper.row))
	m := b.Bench().Memory
	// It has passed the second note, which starts at 0.5 s.
	if n := m.Notes[1]; math.Abs(n.At-0.75) > 0.01 || math.Abs(n.Pitch-(-5.0/12)) > 1e-9 || n.For != 0.4 {
		t.Errorf("moved to %+v", n)
	}
	if got := b.Selection().Note; got != 1 {
		t.Errorf("note %d is chosen after the drag", got)
	}
	b.Undo()
	if got := b.Bench().Memory.Notes[0]; got != before.Notes[0] {
		t.Errorf("one undo leaves %+v", got)
	}
	x, y, w, h = s.paper.bar(b.Bench().Memory.Notes[2])
	pull(s, float32(x+w-2), float32(y+h/2), -float32(0.5*second), 0)
	if n := b.Bench().Memory.Notes[2]; math.Abs(n.For-0.4) > 0.01 || n.At != 1 {
		t.Errorf("shortened to %+v", n)
	}
}

func TestTheBandPlaysByPlaceAndHeight(t *testing.T) {
	_, s, _ := lie(t, "soot")
	if got := s.band.at(s.band.middle(0)); got != 0 {
		t.Errorf("the middle of A4 plays semitone %d", got)
	}
	at := &desktop.MouseEvent{Button: desktop.MouseButtonPrimary}
	at.Position = fyne.NewPos(s.band.middle(0), s.band.y+1)
	s.MouseDown(at)
	if got := s.hands.Pitches(); len(got) != 1 || got[0] != 0 {
		t.Errorf("pressing A4 holds %v", got)
	}
	at.Position = fyne.NewPos(2000, 2000)
	s.MouseUp(at)
	if s.hands.Held() != 0 {
		t.Error("a note hangs after the mouse was let go elsewhere")
	}
	if loud, soft := s.band.velocity(s.band.y), s.band.velocity(s.band.y+s.band.height); loud != 1 || math.Abs(soft-0.2) > 1e-6 {
		t.Errorf("velocities %g at the upper edge, %g at the lower", loud, soft)
	}
}
