package command

import (
	"strings"
	"testing"

	"lampblack/patch/kind"
)

// 80 columns are what a terminal has had since the punched card.
func TestWhatAKindDoesIsToldWithin80Columns(t *testing.T) {
	for _, k := range kind.All() {
		var told strings.Builder
		(&session{text: &told}).printKind(&k.Kind)
		for _, line := range strings.Split(told.String(), "\n") {
			if n := len([]rune(line)); n > 80 {
				t.Errorf("%s: %d columns: %s", k.Name, n, line)
			}
		}
	}
}

func TestWrapKeepsWordsAndWidth(t *testing.T) {
	text := "Lets a part of the spectrum through, and nothing else besides.\n\n    out = in x level\nAnd on."
	got := wrap(text, 30, "  ")
	want := "  Lets a part of the spectrum\n  through, and nothing else\n  besides.\n\n      out = in x level\n  And on."
	if got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	if strings.Join(strings.Fields(got), " ") != strings.Join(strings.Fields(text), " ") {
		t.Error("words were lost")
	}
}

func TestFirstLineOfANote(t *testing.T) {
	for text, want := range map[string]string{
		"":                                "",
		"too dry":                         "too dry",
		"  too dry\nnarrow it":            "too dry",
		"the tail, which outlasts it all": "the tail, which…",
		"twelve chars, no":                "twelve chars, no",
	} {
		if got := firstLine(text, 17); got != want {
			t.Errorf("firstLine(%q) is %q, want %q", text, got, want)
		}
	}
	if got := firstSentence("One thing. Another at 0.5 Hz."); got != "One thing" {
		t.Errorf("the first sentence is %q", got)
	}
	if got := firstSentence("Cut at 0.5 Hz."); got != "Cut at 0.5 Hz" {
		t.Errorf("the first sentence is %q", got)
	}
}
