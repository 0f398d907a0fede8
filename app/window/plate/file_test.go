package plate

import (
	"bytes"
	"errors"
	"io"
	"strings"
	"testing"
)

func TestAPictureIsWrittenInTheFormatOfItsEnding(t *testing.T) {
	f := File{Name: "scope.png", Endings: Pictures, WriteAs: func(w io.Writer, ending string) error {
		_, err := io.WriteString(w, "as "+ending)
		return err
	}}
	for name, want := range map[string]string{"a.png": "as .png", "b.c.SVG": "as .svg", "moths.Pdf": "as .pdf"} {
		var file bytes.Buffer
		if err := f.To(&file, name); err != nil || file.String() != want {
			t.Errorf("%s: %q, %v", name, &file, err)
		}
	}
	for _, name := range []string{"a.jpg", "png", "a.", ""} {
		var file bytes.Buffer
		if err := f.To(&file, name); err == nil || file.Len() > 0 || !strings.Contains(err.Error(), ".png, .svg or .pdf") {
			t.Errorf("%q: %q was written; %v", name, &file, err)
		}
	}
}

func TestNothingIsWrittenOfAFileThatFails(t *testing.T) {
	full := errors.New("no room")
	f := File{Name: "scope.csv", Write: func(w io.Writer) error {
		_, _ = io.WriteString(w, "half a line")
		return full
	}}
	var file bytes.Buffer
	if err := f.To(&file, "any.name"); !errors.Is(err, full) || file.Len() > 0 {
		t.Errorf("%q was written; %v", &file, err)
	}
	if got := f.Formats(); len(got) != 1 || got[0] != ".csv" {
		t.Errorf("the formats are %q", got)
	}
}
