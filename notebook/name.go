package notebook

import (
	"errors"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// MaxName is the longest name of a job or a cue, in characters: they stand on
// one line of the contents.
const MaxName = 200

// oneLine says what is wrong with a text that has to stand on one line, or nil.
func oneLine(what, text string) error {
	switch n := utf8.RuneCountInString(text); {
	case !utf8.ValidString(text) || strings.ContainsFunc(text, unicode.IsControl):
		return fmt.Errorf("%s is %.60q; allowed are all characters but control characters (the end of a line is one)", what, text)
	case n > MaxName:
		return fmt.Errorf("%s has %d characters; allowed are %d", what, n, MaxName)
	}
	return nil
}

func (c Cue) oneLine() error {
	return errors.Join(oneLine("the cue's number", c.Number), oneLine("the cue's name", c.Name), oneLine("the cue's timecode", c.Timecode))
}
