package instruments

import (
	"math"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"lampblack/app/window/leaf"
)

func TestNumbersAreTyped(t *testing.T) {
	b, p := sines(t, "soot", 440)
	w := b.Show(p.Large(), 760, 420)
	p.Enlarge(ofScope)
	w.Canvas().Capture()
	l := p.Large()
	w.Canvas().Focus(l)
	l.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight}) // to "scope"
	for at := 0; l.At() != "time" && at < 40; at++ {
		l.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	}
	for _, c := range []struct {
		typed string
		want  float64
	}{{"2", 2e-3}, {"300us", 300e-6}, {"20", 20e-6}, {"1 s", 1}, {"99", 10}, {"2x", 10}} {
		l.TypedRune(rune(c.typed[0]))
		f, ok := w.Canvas().Focused().(*leaf.Field)
		if !ok {
			t.Fatalf("typing %q: the keyboard is at %T", c.typed, w.Canvas().Focused())
		}
		for _, r := range c.typed[1:] {
			f.TypedRune(r)
		}
		f.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
		if got := p.measure.switches.time; math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%q sets %g s a division, want %g", c.typed, got, c.want)
		}
		if w.Canvas().Focused() != fyne.Focusable(l) {
			t.Errorf("after %q the keyboard is at %T", c.typed, w.Canvas().Focused())
		}
	}
	if !strings.Contains(l.hint(), "no number") {
		t.Errorf("of 2x it says %q", l.hint())
	}
	l.TypedRune('5')
	l.field.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if p.measure.switches.time != 10 || l.typing != "" {
		t.Errorf("Escape sets %g", p.measure.switches.time)
	}
}
