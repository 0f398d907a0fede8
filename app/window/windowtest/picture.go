package windowtest

import (
	"fmt"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"
)

// Another processor may round the edge of a letter to another shade: a pixel
// differs if a channel does by more than shade, and a picture if more than a
// part of its pixels do.
const (
	shade  = 12
	pixels = 2e-4
)

// Picture compares what a canvas shows with the picture of that name in
// testdata. A miss leaves what was seen in testdata/failed.
func Picture(t testing.TB, name string, c fyne.Canvas) {
	t.Helper()
	seen := c.Capture()
	master, err := read(filepath.Join("testdata", name))
	switch {
	case err != nil:
		t.Errorf("there is no picture to compare with: %v; %s", err, leave(name, seen))
	case master.Bounds() != seen.Bounds():
		t.Errorf("%s is %v large, want %v; %s", name, seen.Bounds(), master.Bounds(), leave(name, seen))
	default:
		if n, first := differing(seen, master); float64(n) > pixels*float64(seen.Bounds().Dx()*seen.Bounds().Dy()) {
			t.Errorf("%s: %d pixels differ, the first at %v; %s", name, n, first, leave(name, seen))
		}
	}
}

func differing(a, b image.Image) (n int, first image.Point) {
	for y := a.Bounds().Min.Y; y < a.Bounds().Max.Y; y++ {
		for x := a.Bounds().Min.X; x < a.Bounds().Max.X; x++ {
			if near(a, b, x, y) {
				continue
			}
			if n == 0 {
				first = image.Pt(x, y)
			}
			n++
		}
	}
	return n, first
}

func near(a, b image.Image, x, y int) bool {
	r, g, bl, _ := a.At(x, y).RGBA()
	r2, g2, b2, _ := b.At(x, y).RGBA()
	return apart(r, r2) && apart(g, g2) && apart(bl, b2)
}

// apart tells whether two 16-bit channels lie within a shade of each other.
func apart(a, b uint32) bool { return max(a, b)-min(a, b) <= shade*0x101 }

func read(path string) (image.Image, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return png.Decode(f)
}

// leave writes what was seen and says where.
func leave(name string, seen image.Image) string {
	path := filepath.Join("testdata", "failed", name)
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return err.Error()
	}
	f, err := os.Create(path)
	if err != nil {
		return err.Error()
	}
	defer f.Close()
	if err := png.Encode(f, seen); err != nil {
		return err.Error()
	}
	return fmt.Sprintf("what was seen is in %s", path)
}
