package ruler

import (
	"fmt"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"lampblack/app/desk"
	"lampblack/app/window/look"
	"lampblack/app/window/look/golden"
	"lampblack/patch"
)

// swayedTwice is the bench with a second cord into the cutoff, of 220 Hz, whose
// depth is four times that of the first with the other sign.
func swayedTwice(t *testing.T, theme string) *desk.Session {
	s := bench(t, theme)
	for _, e := range []desk.Edit{
		desk.SetDepth(sway, cutoff, patch.Setting{Value: 0.5, Unit: "oct"}),
		desk.SetControl("sway", "rate", patch.Setting{Value: 2, Unit: "Hz"}),
	} {
		s.Do(e)
	}
	e, _ := desk.AddModule("oscillator", patch.Point{}, s.Patch())
	s.Do(e)
	s.Do(desk.SetControl("oscillator 2", "frequency", patch.Setting{Value: 220, Unit: "Hz"}))
	s.Do(desk.Join(patch.Socket{Module: "oscillator 2", Name: "out"}, cutoff, patch.Setting{Value: -2, Unit: "oct", Text: "-2 oct"}))
	s.Settle()
	return s
}

// sound lets the engine run and the screen beat.
func sound(s *desk.Session, seconds float64) {
	for range int(seconds * 30) {
		hear(s, 1.0/30)
		look.Live.Beat()
	}
}

func TestARulerUnfoldsWhatMovesIt(t *testing.T) {
	for _, theme := range []string{"soot", "paper"} {
		for _, size := range []struct {
			name          string
			width, height float32
			scale         float32
		}{{"", 760, 260, 1}, {"-narrow-large", 420, 230, 2}} {
			s := swayedTwice(t, theme)
			s.Select(desk.Selection{Modules: []string{"reed"}, Cord: -1, Note: -1})
			p := NewRulers(s)
			c := show1(t, p, size.width, size.height)
			c.SetScale(size.scale)
			p.Shown()[0].Unfold()
			sound(s, 1)
			golden.Check(t, "causes-"+theme+size.name+".png", c)
		}
	}
}

// Both signals are sines of full swing, so the shares go as the depths: 0.5 and
// 2 octaves are 20 % and 80 %.
func TestTheSharesOfTwoCords(t *testing.T) {
	s := swayedTwice(t, "soot")
	r := ruler(t, s, "cutoff")
	flat := r.MinSize().Height
	withShift(t)
	r.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	sound(s, 1)
	var written []string
	for _, l := range r.view.lines {
		written = append(written, fmt.Sprintf("%s %s %s", l.from.Text, l.depth.Text, l.share.Text))
	}
	if got := strings.Join(written, "; "); got != "sway +0.5 oct 20 %; oscillator 2 −2 oct 80 %" {
		t.Errorf("it says %s", got)
	}
	if tall := r.MinSize().Height; tall < flat+2*look.Em() {
		t.Errorf("unfolded it is %g high, folded %g", tall, flat)
	}
	// ±2 octaves around 2.1 kHz on a ruler of 20 Hz to 20 kHz: log 4 / log 1000 to either side.
	g := r.geometry()
	for _, bar := range []fyne.CanvasObject{r.view.lines[1].can, r.view.lines[1].did} {
		want := 2 * 0.2007 * g.scaleWidth()
		if w := float64(bar.Size().Width); w < want-2 || w > want+2 {
			t.Errorf("a bar is %g wide, want %g", w, want)
		}
	}
	r.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if r.Unfolded() || r.MinSize().Height != flat {
		t.Error("the same key folds it again")
	}
}

// Insert adds a module, also while a ruler has the keyboard.
func TestARulerLetsInsertGo(t *testing.T) {
	s := swayedTwice(t, "soot")
	r := ruler(t, s, "cutoff")
	r.TypedKey(&fyne.KeyEvent{Name: fyne.KeyInsert})
	if r.Unfolded() || r.typing {
		t.Error("a ruler has a use for Insert")
	}
}

func clickAt(r *Ruler, x, y float64) {
	at := &desktop.MouseEvent{Button: desktop.MouseButtonPrimary}
	at.Position = fyne.NewPos(float32(x), float32(y))
	r.MouseDown(at)
	r.MouseUp(at)
}

func TestTheMouseUnfoldsAndChoosesACord(t *testing.T) {
	s := swayedTwice(t, "soot")
	r := ruler(t, s, "cutoff")
	stood := r.Written()
	g := r.geometry()
	clickAt(r, g.valueX+2, g.top/2)
	if !r.Unfolded() || r.Written() != stood || r.typing {
		t.Fatal("pressing the word unfolds it, and does nothing else")
	}
	clickAt(r, g.scaleX0+30, g.height+1.5*causeHeight*g.em)
	if n := s.Selection().Cord; n != 1 || r.Written() != stood {
		t.Errorf("pressing the second line chose cord %d; the control stands at %s", n, r.Written())
	}
}

func TestWhatNothingMovesDoesNotUnfold(t *testing.T) {
	s := swayedTwice(t, "soot")
	r := ruler(t, s, "width")
	r.Unfold()
	if r.Unfolded() || r.causesWord() != "" {
		t.Error("a control without cords has something to unfold")
	}
	r = ruler(t, s, "cutoff")
	r.Unfold()
	s.Do(desk.RemoveModules("sway", "oscillator 2"))
	sound(s, 0.1)
	if r.Unfolded() || r.causesWord() != "" {
		t.Error("it stays unfolded when its cords are gone")
	}
}
