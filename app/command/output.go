package command

import (
	"io"
	"strings"
	"unicode"
)

// output is standard output. It remembers the first failure: what a command
// prints must not get lost in silence (a full disk behind a >).
type output struct {
	w   io.Writer
	err error
}

func (o *output) Write(p []byte) (int, error) {
	n, err := o.w.Write(p)
	if err != nil && o.err == nil {
		o.err = err
	}
	return n, err
}

// sheet is standard output for people. Notes and names may come from somebody
// else's notebook; a terminal must not take orders from them.
type sheet struct{ w io.Writer }

func (p sheet) Write(text []byte) (int, error) {
	if _, err := io.WriteString(p.w, visible(string(text))); err != nil {
		return 0, err
	}
	return len(text), nil
}

// visible replaces what a terminal would obey instead of showing it: control
// characters but for the end of a line and the tab, and what turns the
// direction of writing round.
func visible(text string) string {
	return strings.Map(func(r rune) rune {
		if r != '\n' && r != '\t' && (unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r)) {
			return unicode.ReplacementChar
		}
		return r
	}, text)
}
