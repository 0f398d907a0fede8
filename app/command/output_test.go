package command

import (
	"bytes"
	"errors"
	"fmt"
	"testing"
)

func TestATerminalTakesNoOrdersFromANote(t *testing.T) {
	for _, c := range []struct{ text, want, source string }{
		{"red \x1b[31m, clear \u009b2J", "red \uFFFD[31m, clear \uFFFD2J", "ECMA-48, ESC and CSI"},
		{"a\u202Eb", "a\uFFFDb", "Unicode Standard Annex 9, RLO"},
		{"line\n\ttab", "line\n\ttab", "layout stays"},
		{"größe ☂ 日本", "größe ☂ 日本", "letters stay"},
	} {
		var out bytes.Buffer
		fmt.Fprint(sheet{&out}, c.text)
		if out.String() != c.want {
			t.Errorf("%s: %q is shown as %q, want %q", c.source, c.text, out.String(), c.want)
		}
	}
}

type full struct{}

var errFull = errors.New("no space left")

func (full) Write([]byte) (int, error) { return 0, errFull }

func TestOutputThatGotLostIsNoSuccess(t *testing.T) {
	for _, args := range [][]string{{"module", "list"}, {"module", "show", "filter"}, {"module", "list", "--json"}, {"render", "--help"}, {"--version"}} {
		var told bytes.Buffer
		if code := run(t.Context(), Program{}, args, full{}, &told); code != ExitBadInput {
			t.Errorf("%v into a full disk ends with %d, want %d; told was %s", args, code, ExitBadInput, told.String())
		}
	}
}
