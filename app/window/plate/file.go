package plate

import (
	"bytes"
	"fmt"
	"io"
	"path"
	"slices"
	"strings"
)

// File is what an instrument can write. One of Write and WriteAs is there.
type File struct {
	Setting string // the name of the setting that writes it
	Name    string // of the file, with its ending: what the person is offered
	Hint    string
	Write   func(w io.Writer) error // in the one format that the ending of Name names

	// WriteAs writes the format that an ending, in small letters, names. Endings
	// are those that it knows; the first is that of Name.
	WriteAs func(w io.Writer, ending string) error
	Endings []string
}

// Pictures are the endings of what is drawn, the one that is offered first.
var Pictures = []string{".png", ".svg", ".pdf"}

// Formats returns the endings that the file's name may have.
func (f File) Formats() []string {
	if f.WriteAs == nil {
		return []string{path.Ext(f.Name)}
	}
	return f.Endings
}

// To writes a file of that name whole, or not at all. A picture becomes what the
// ending of the name says; a name with another ending is refused.
func (f File) To(w io.Writer, name string) error {
	ending := strings.ToLower(path.Ext(name))
	var whole bytes.Buffer
	var err error
	switch {
	case f.WriteAs == nil:
		err = f.Write(&whole)
	case !slices.Contains(f.Endings, ending):
		return fmt.Errorf("its name must end in %s; nothing was written", Alternatives(f.Endings))
	default:
		err = f.WriteAs(&whole, ending)
	}
	if err == nil {
		_, err = whole.WriteTo(w)
	}
	return err
}

// Alternatives writes words as a choice: ".png, .svg or .pdf".
func Alternatives(words []string) string {
	last := len(words) - 1
	if last < 1 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:last], ", ") + " or " + words[last]
}
