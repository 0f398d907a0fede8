package assets

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"image/png"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path"
	"strings"
	"testing"
)

func TestEveryIconHasTheSizeItsNameSays(t *testing.T) {
	icons, err := fs.Glob(Files, "icon/*.png")
	if err != nil || len(icons) < 8 {
		t.Fatalf("icons: %v, %v", icons, err)
	}
	for _, name := range icons {
		file, err := Files.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		c, err := png.DecodeConfig(bytes.NewReader(file))
		if want := fmt.Sprintf("icon/lampblack-%d.png", c.Width); err != nil || name != want || c.Width != c.Height {
			t.Errorf("%s is %d x %d, %v", name, c.Width, c.Height, err)
		}
	}
}

func TestTheDrawnIconIsXML(t *testing.T) {
	f, err := Files.Open("icon/lampblack.svg")
	if err != nil {
		t.Fatal(err)
	}
	d := xml.NewDecoder(f)
	for {
		if _, err := d.Token(); err == io.EOF {
			return
		} else if err != nil {
			t.Fatal(err)
		}
	}
}

// Source: freedesktop.org, Desktop Entry Specification 1.4, as its own
// validator (Debian's desktop-file-utils) holds it.
func TestTheDesktopEntryIsValid(t *testing.T) {
	tool, err := exec.LookPath("desktop-file-validate")
	if err != nil {
		if os.Getenv("LAMPBLACK_TOOLS") == "must" {
			t.Fatal("desktop-file-validate is missing; .ci/need test installs it")
		}
		t.Skip("desktop-file-validate is missing; .ci/need test installs it")
	}
	if out, err := exec.Command(tool, "lampblack.desktop").CombinedOutput(); err != nil || len(out) > 0 {
		t.Errorf("%v: %s", err, out)
	}
}

func TestExamplePatchesAreThere(t *testing.T) {
	for _, name := range Patches() {
		if _, err := Patch(name); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := Patch("no such patch"); err == nil {
		t.Error("a patch that is not there is no error")
	}
}

// Scripts that make an asset stay in the source; they are of no use inside the
// program, but small.
func TestNothingLargeTravelsAlong(t *testing.T) {
	var total int64
	err := fs.WalkDir(Files, ".", func(name string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		info, err := e.Info()
		total += info.Size()
		if strings.HasSuffix(path.Base(name), "~") {
			t.Errorf("%s is an editor's leftover", name)
		}
		return err
	})
	if err != nil || total > 4<<20 {
		t.Errorf("the embedded files have %d bytes, %v; want 4 MiB at most", total, err)
	}
}
