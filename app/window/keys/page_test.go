package keys

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"

	"lampblack/app/window/look"
	"lampblack/app/window/look/golden"
)

func TestPagePicture(t *testing.T) {
	for _, theme := range []string{"soot", "paper"} {
		test.NewTempApp(t).Settings().SetTheme(look.Theme(theme))
		w := test.NewTempWindow(t, NewPage(func() {}))
		w.SetPadded(false)
		w.Resize(fyne.NewSize(1280, 800))
		golden.Check(t, "page-"+theme+".png", w.Canvas())
	}
}

func TestEveryKeyIsOnThePageAtTheCommonSizes(t *testing.T) {
	test.NewTempApp(t).Settings().SetTheme(look.Theme("soot"))
	for _, size := range []fyne.Size{{Width: 1280, Height: 800}, {Width: 1440, Height: 900}, {Width: 1920, Height: 1080}} {
		g := NewPage(func() {})
		test.NewTempWindow(t, g).Resize(size)
		if !g.whole {
			t.Errorf("at %v some keys are not on the page", size)
		}
	}
}

func TestAPageThatIsTooSmallSaysHowItIsTurned(t *testing.T) {
	test.NewTempApp(t).Settings().SetTheme(look.Theme("soot"))
	for _, c := range []struct {
		size fyne.Size
		want bool
	}{{fyne.NewSize(900, 600), true}, {fyne.NewSize(1280, 800), false}} {
		g := NewPage(func() {})
		test.NewTempWindow(t, g).Resize(c.size)
		said := false
		for _, o := range test.WidgetRenderer(g).Objects() {
			text, ok := o.(*canvas.Text)
			said = said || ok && text.Text == turns
		}
		if said != c.want {
			t.Errorf("at %v it says how to turn the page: %v, want %v", c.size, said, c.want)
		}
	}
}

func TestEscapeAndF1CloseThePage(t *testing.T) {
	test.NewTempApp(t).Settings().SetTheme(look.Theme("soot"))
	closed := 0
	g := NewPage(func() { closed++ }, Section{"more", []Line{{"X", "does something else"}}})
	w := test.NewTempWindow(t, g)
	w.Resize(fyne.NewSize(1440, 900))
	g.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	g.TypedKey(&fyne.KeyEvent{Name: fyne.KeyF1})
	if err := g.Click("close"); err != nil {
		t.Fatal(err)
	}
	if closed != 3 {
		t.Errorf("closed %d times, want 3", closed)
	}
}

func TestTheCautionsSayWhoDecides(t *testing.T) {
	all := strings.Join(Cautions(), "\n")
	for _, want := range []string{"Hearing", "local rules", "photosensitive", "qualified"} {
		if !strings.Contains(all, want) {
			t.Errorf("no caution mentions %q", want)
		}
	}
	for _, s := range Sections() {
		for _, l := range s.Lines {
			if s.Title == "" || l.Does == "" {
				t.Errorf("a line of %q says nothing", s.Title)
			}
		}
	}
}
