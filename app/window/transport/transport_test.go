package transport

import (
	"slices"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"

	"lampblack/app/desk"
	"lampblack/app/window/look/golden"
	"lampblack/app/window/windowtest"
)

func TestPicture(t *testing.T) {
	for _, theme := range windowtest.Themes {
		b := windowtest.New(t, theme)
		b.Fill()
		b.SetSpeed(0.72)
		w := b.Show(New(b.Session), 830, 44)
		golden.Check(t, theme+".png", w.Canvas())
	}
}

func TestNothingIsWrittenOverSomethingElse(t *testing.T) {
	b := windowtest.New(t, "soot")
	b.Fill()
	l := New(b.Session)
	w := b.Show(l, 830, 44)
	for width := float32(420); width < 1400; width += 35 {
		w.Resize(fyne.NewSize(width, 44))
		type span struct{ from, to float32 }
		var spans []span
		for _, o := range test.WidgetRenderer(l).Objects() {
			if text, ok := o.(*canvas.Text); ok {
				spans = append(spans, span{text.Position().X, text.Position().X + text.MinSize().Width})
			}
		}
		slices.SortFunc(spans, func(a, b span) int { return int(a.from - b.from) })
		for i := 1; i < len(spans); i++ {
			if spans[i].from < spans[i-1].to {
				t.Errorf("%g wide: a text from %g on lies over one that ends at %g", width, spans[i].from, spans[i-1].to)
			}
		}
		if last := spans[len(spans)-1].to; last > width {
			t.Errorf("%g wide: a text ends at %g", width, last)
		}
	}
}

func TestTheMemoryIsPlayedToTheEndOfItsPass(t *testing.T) {
	b := windowtest.New(t, "soot")
	b.Fill()
	l := New(b.Session)
	b.Show(l, 830, 44)
	press := func(name string) {
		t.Helper()
		l.beat()
		if err := l.Click(name); err != nil {
			t.Fatal(err)
		}
	}
	press("play")
	b.Listen(0.5)
	if !b.Playing() || b.Position() < 0.4 {
		t.Fatalf("playing %v at %.2f s after half a second", b.Playing(), b.Position())
	}
	press("repeat")
	press("stop at end")
	b.Listen(1.7) // beyond the pass of 2 s
	if b.Playing() {
		t.Errorf("still playing at %.2f s, after the end of the pass", b.Position())
	}
	press("play")
	b.Listen(0.1)
	press("play") // it is "stop" now
	if b.Playing() {
		t.Error("stop did not stop")
	}
}

func TestASpeedIsTypedScrolledAndPutBack(t *testing.T) {
	b := windowtest.New(t, "soot")
	b.Fill()
	l := New(b.Session)
	b.Show(l, 830, 44)
	typed := func(text string) {
		if err := l.Click("speed"); err != nil {
			t.Fatal(err)
		}
		l.speed.SetText(text)
		l.speed.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	}
	for _, c := range []struct {
		text string
		want float64
	}{{"0.72", 0.72}, {"1,5 x", 1.5}, {"nonsense", 1.5}, {"0", 1.5}, {"1e9", 1.5}, {"2 ×", 2}} {
		before := len(b.Notices(desk.AtMemory))
		typed(c.text)
		if b.Speed() != c.want {
			t.Errorf("typed %q: speed %g, want %g", c.text, b.Speed(), c.want)
		}
		if told := len(b.Notices(desk.AtMemory)) > before; c.text == "nonsense" && !told {
			t.Error("what was typed was refused without a word")
		}
	}
	b.Undo()
	if b.Speed() != 1.5 {
		t.Errorf("undo leaves the speed at %g", b.Speed())
	}
}

func TestARecordingIsMade(t *testing.T) {
	b := windowtest.New(t, "soot")
	b.Fill()
	l := New(b.Session)
	b.Show(l, 830, 44)
	if err := l.Click("record"); err != nil {
		t.Fatal(err)
	}
	if got := l.record(); got != "play: it records" {
		t.Errorf("waiting, the line says %q", got)
	}
	b.NoteOn(0, 0.8)
	b.Listen(0.5)
	b.NoteOff(0)
	b.Listen(0.2)
	if err := l.Click("record"); err != nil {
		t.Fatal(err)
	}
	notes := b.Bench().Memory.Notes
	if len(notes) != 1 || notes[0].For < 0.49 || notes[0].For > 0.51 {
		t.Errorf("recorded %+v", notes)
	}
}
