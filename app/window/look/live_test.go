package look

import (
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"
)

func TestThePulseCallsThoseWhoWatch(t *testing.T) {
	var p Pulse
	var heard []string
	stop := p.Watch(func() { heard = append(heard, "a") })
	p.Watch(func() { heard = append(heard, "b") })
	p.Beat()
	stop()
	p.Beat()
	if got := strings.Join(heard, ""); got != "abb" {
		t.Errorf("called were %q", got)
	}
}

func TestThePulseBearsComingAndGoing(t *testing.T) {
	var p Pulse
	n := 0
	var stop func()
	stop = p.Watch(func() {
		stop()
		p.Watch(func() { n++ })
	})
	p.Beat()
	p.Beat()
	p.Beat()
	if n != 2 {
		t.Errorf("who came during a beat was called %d times in the two after it", n)
	}
}

func TestWhoWatchesCloselyIsCalledTwiceAsOften(t *testing.T) {
	var p Pulse
	words, pictures := 0, 0
	p.Watch(func() { words++ })
	p.WatchClosely(func() { pictures++ })
	for range 60 {
		p.tick(0)
	}
	if words != 30 || pictures != 60 {
		t.Errorf("in 60 frames words were looked at %d times, pictures %d times", words, pictures)
	}
	p.Resting = func() bool { return true }
	p.tick(0)
	p.tick(0) // comes to rest
	words, pictures = 0, 0
	for range 60 {
		p.tick(0)
	}
	if words != 5 || pictures != 5 {
		t.Errorf("at rest, in 60 frames words were looked at %d times, pictures %d times; want 5, a sixth of 30", words, pictures)
	}
}

func TestTheBeatsPartsAreTimed(t *testing.T) {
	var p Pulse
	var parts []string
	beats := 0
	p.Timed = func(part string, _ time.Duration) { parts = append(parts, part) }
	p.Beaten = func(time.Duration) { beats++ }
	p.Watch((&timedPart{}).beat)
	p.Beat()
	if len(parts) != 1 || parts[0] != "look.(*timedPart).beat" || beats != 1 {
		t.Errorf("timed were %q, in %d beats", parts, beats)
	}
}

type timedPart struct{}

func (*timedPart) beat() {}

// words returns what stands on an object, and in which colour.
func words(w fyne.Widget) (text string, t *canvas.Text) {
	for _, o := range test.WidgetRenderer(w).Objects() {
		if line, ok := o.(*canvas.Text); ok {
			text, t = text+line.Text+"|", line
		}
	}
	return text, t
}

func TestTextsFollowTheTheme(t *testing.T) {
	test.NewTempApp(t)
	test.ApplyTheme(t, Theme("soot"))
	text := NewText(Quiet, "kept")
	if _, line := words(text); line.Color != Soot.Quiet {
		t.Errorf("in soot it is %v", line.Color)
	}
	test.ApplyTheme(t, ThemeWithText("paper", 20))
	text.Refresh()
	if _, line := words(text); line.Color != Paper.Quiet || line.TextSize != 20*styles[Quiet].scale {
		t.Errorf("in paper it is %v, %g", line.Color, line.TextSize)
	}
}

func TestATextIsCutWhereItHasNoRoom(t *testing.T) {
	test.NewTempApp(t)
	test.ApplyTheme(t, Theme("soot"))
	text := NewText(Body, "Wings at 23 Hz, keep").Cutting()
	text.Resize(fyne.NewSize(70, 20))
	got, _ := words(text)
	if !strings.HasSuffix(got, "…|") || Body.Measure(strings.TrimSuffix(got, "|")).Width > 70 {
		t.Errorf("in 70 it says %q", got)
	}
	if Body.Fit("Wings", 1, 1) != "" {
		t.Error("a text stands where there is no room at all")
	}
}

func TestAParagraphBreaksAtWords(t *testing.T) {
	test.NewTempApp(t)
	test.ApplyTheme(t, Theme("soot"))
	const text = "Width down from 310 to 45 Hz:\nnow it has a pitch."
	p := NewParagraph(Body, text)
	p.Resize(fyne.NewSize(120, 200))
	got, _ := words(p)
	for _, line := range strings.Split(strings.TrimSuffix(got, "|"), "|") {
		if Body.Measure(line).Width > 120 {
			t.Errorf("%q is wider than 120", line)
		}
	}
	if strings.Join(strings.Fields(strings.ReplaceAll(got, "|", " ")), " ") != strings.Join(strings.Fields(text), " ") {
		t.Errorf("broken into %q", got)
	}
	if p.MinSize().Height != p.HeightFor(120) {
		t.Errorf("%g high, its lines are %g", p.MinSize().Height, p.HeightFor(120))
	}
}

func TestThePulseSlowsDownWhileItRests(t *testing.T) {
	resting := false
	p := Pulse{Resting: func() bool { return resting }}
	count := func() (n int) {
		for range 30 { // a second
			if p.due() {
				n++
			}
		}
		return n
	}
	if n := count(); n != 30 {
		t.Errorf("at work it beats %d times a second, want 30", n)
	}
	resting = true
	if n := count(); n != 5 {
		t.Errorf("at rest it beats %d times a second, want 5", n)
	}
	resting = false
	if !p.due() {
		t.Error("the first beat after a rest is left out")
	}
}
