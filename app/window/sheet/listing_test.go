package sheet

import (
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"lampblack/app/desk"
	"lampblack/app/window/look"
	"lampblack/app/window/look/golden"
	"lampblack/patch"
	"lampblack/patch/kind"
)

// typed gives an open list a key.
func (l *list) typed(names ...fyne.KeyName) {
	for _, name := range names {
		l.TypedKey(&fyne.KeyEvent{Name: name})
	}
}

func TestKindsStandUnderTheirFamilies(t *testing.T) {
	s := bench(t, "soot", moth())
	sh, _ := laid(t, s, 720, 360)
	key(sh, fyne.KeyInsert)
	l := sh.list
	if got, want := len(l.heads()), len(patch.Families()); got != want {
		t.Errorf("%d families are headings, want %d", got, want)
	}
	if len(l.rows) != len(kind.All())+len(l.heads()) {
		t.Errorf("%d rows for %d kinds in %d families", len(l.rows), len(kind.All()), len(l.heads()))
	}
	for range len(l.shown) - 1 {
		l.typed(fyne.KeyDown)
		seen := false
		for _, r := range l.rows[l.first:min(l.first+l.lines(), len(l.rows))] {
			seen = seen || r.head == "" && r.item == l.at
		}
		if !seen {
			t.Fatalf("%s is chosen and not seen", l.shown[l.at].name)
		}
	}
	if last := l.shown[l.at]; last.head != string(patch.Levels) {
		t.Errorf("the arrow came to %s of %s last", last.name, last.head)
	}
}

func TestTabGoesFromFamilyToFamily(t *testing.T) {
	s := bench(t, "soot", moth())
	sh, _ := laid(t, s, 720, 360)
	key(sh, fyne.KeyInsert)
	l := sh.list
	for _, family := range append(patch.Families()[1:], patch.Families()[0]) {
		l.typed(fyne.KeyTab)
		if it := l.shown[l.at]; it.head != string(family) || l.at > 0 && l.shown[l.at-1].head == it.head {
			t.Errorf("Tab came to %s of %s, want the first of %s", it.name, it.head, family)
		}
	}
	defer func(before func() fyne.KeyModifier) { held = before }(held)
	held = func() fyne.KeyModifier { return fyne.KeyModifierShift }
	l.typed(fyne.KeyTab)
	if it := l.shown[l.at]; it.head != string(patch.Levels) {
		t.Errorf("with Shift it came to %s of %s", it.name, it.head)
	}
	if err := l.leaf.Click("to filters"); err != nil {
		t.Fatal(err)
	}
	if it := l.shown[l.at]; it.head != string(patch.Filters) {
		t.Errorf("a click on filters came to %s of %s", it.name, it.head)
	}
}

func TestTypingFindsAKind(t *testing.T) {
	s := bench(t, "soot", moth())
	sh, _ := laid(t, s, 720, 360)
	for _, c := range []struct{ typed, want, why string }{
		{"mix", "mixer", "its name begins so"},
		{"noise", "noise", "its name is that, though others say noise"},
		{"envel", "envelope", "its name begins so; others hold the word"},
		{"echoes", "reverberator", "its first sentence says so"},
		{"wow", "wow and flutter", "its name in files is that"},
		{"followers voice", "voice gate", "a word of its family and one of its name"},
	} {
		key(sh, fyne.KeyInsert)
		sh.list.SetText(c.typed)
		if l := sh.list; len(l.shown) == 0 || l.shown[l.at].name != c.want {
			t.Errorf("%q finds %d, and goes to %d; want %s: %s", c.typed, len(l.shown), l.at, c.want, c.why)
		}
		sh.list.typed(fyne.KeyEscape)
	}
	key(sh, fyne.KeyInsert)
	sh.list.SetText("space and colour")
	for _, it := range sh.list.shown {
		if it.head != string(patch.Space) {
			t.Errorf("%s of %s is no answer to the name of a family", it.name, it.head)
		}
	}
}

// few leaves a list of kinds with some that have been there for long: a picture
// does not change with every kind that is added.
func (l *list) few() {
	keep := []string{"memory", "oscillator", "noise", "recording", "filter", "ring", "slow", "hold", "envelope", "loudness", "delay", "pan", "amplifier", "mixer", "output"}
	l.items = slices.DeleteFunc(l.items, func(it item) bool {
		return !slices.Contains(keep, strings.Fields(it.words)[0])
	})
	l.narrow(l.Text)
}

func TestTheListOfKindsNarrowed(t *testing.T) {
	s := bench(t, "paper", moth())
	sh, c := laid(t, s, 720, 360)
	key(sh, fyne.KeyInsert)
	sh.list.SetText("voice")
	sh.list.few()
	golden.Check(t, "list-narrowed-paper.png", c)
}

func TestTheListOfWhatCanBeJoined(t *testing.T) {
	s := bench(t, "soot", moth())
	e, _ := desk.AddModule("mixer", at(864, 240), s.Patch())
	s.Do(e)
	sh, c := laid(t, s, 720, 360)
	s.Select(desk.Selection{Modules: []string{"reed"}, Cord: -1, Note: -1})
	sh.openJoin()
	sh.list.SetText("mixer")
	look.Live.Beat()
	golden.Check(t, "list-join-soot.png", c)
}
