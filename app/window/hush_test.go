package window

import (
	"log"
	"strings"
	"testing"
)

func TestOnlyWhatTellsAPersonNothingIsHushed(t *testing.T) {
	var out strings.Builder
	l := log.New(&hush{to: &out}, "", 0)
	l.Println("Fyne error: ", "Getting favorite locations")
	l.Println("  Cause:", "this computer does not define a VIDEOS folder")
	l.Printf("  At: %s:%d", "dialog/file.go", 396)
	l.Println("the notebook is full")
	l.Println("Fyne error: ", "Preferences load error:")
	l.Println("Fyne error: ", "Failed to focus object")
	l.Printf("  At: %s:%d", "canvas.go", 174)
	want := "the notebook is full\nFyne error:  Failed to focus object\n  At: canvas.go:174\n"
	if out.String() != want {
		t.Errorf("passed on:\n%s\nwant:\n%s", out.String(), want)
	}
}
