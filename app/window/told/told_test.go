package told

import (
	"strings"
	"testing"

	"lampblack/app/desk"
	"lampblack/app/window/leaf"
	"lampblack/app/window/windowtest"
)

func TestANoticeIsReadInFullAndPutAway(t *testing.T) {
	b := windowtest.New(t, "paper")
	var top, bottom float32
	l := leaf.New(func(p *leaf.Pen) { bottom = Notices(p, b.Session, desk.AtNote, 10, top, 200) })
	b.Show(l, 220, 300)
	if bottom != top {
		t.Errorf("without a notice %g is taken", bottom-top)
	}
	b.Notify(desk.Notice{Place: desk.AtNote, Text: strings.Repeat("the width is 0 Hz; it must be 1 to 2000 Hz; ", 3), Fault: true})
	b.Notify(desk.Notice{Place: desk.AtSound, Text: "said elsewhere"})
	l.Refresh()
	if got, want := bottom-top, Height(b.Session, desk.AtNote, 200); got != want || got < 60 {
		t.Errorf("the notice is %g high, Height says %g", got, want)
	}
	if len(l.Names()) != 1 {
		t.Fatalf("places %q", l.Names())
	}
	if err := l.Click(l.Names()[0]); err != nil {
		t.Fatal(err)
	}
	if len(b.Notices(desk.AtNote)) != 0 || len(b.Notices(desk.AtSound)) != 1 {
		t.Error("the notice was not put away, or another one was")
	}
}

func TestAHintComesBackOnlyWhenRestored(t *testing.T) {
	b := windowtest.New(t, "soot")
	drawn := 0
	var l *leaf.Leaf
	l = leaf.New(func(p *leaf.Pen) {
		if Hint(p, "test", "scroll over a word", 10, 20, 300, func() { l.Refresh() }) {
			drawn++
		}
	})
	b.Show(l, 320, 40)
	if drawn == 0 {
		t.Fatal("a new hint is not shown")
	}
	if err := l.Click("hint"); err != nil {
		t.Fatal(err)
	}
	drawn = 0
	l.Refresh()
	if drawn != 0 || Wanted("test") {
		t.Error("a hint that was put away is shown")
	}
	Restore("test")
	if !Wanted("test") {
		t.Error("a restored hint is not shown")
	}
}
