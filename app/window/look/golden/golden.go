// Package golden compares what a test has drawn with the picture that was
// looked at and found good.
//
//	canvas -> Check -> testdata/NAME.png, or testdata/failed/NAME.png and where they differ
//
// It is for tests alone. Colours may differ by a little (another processor may
// round an edge otherwise), places may not.
package golden

import (
	"errors"
	"image"
	"image/draw"
	"image/png"
	"io/fs"
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"
)

// Little is how much a channel of a colour may differ, of 255.
const Little = 6

// Check compares what a canvas shows with testdata/name. A picture that differs
// is left in testdata/failed, from where it can be moved once it was looked at.
func Check(t testing.TB, name string, c fyne.Canvas) {
	t.Helper()
	got := flat(c.Capture())
	want, err := read(filepath.Join("testdata", name))
	failed := filepath.Join("testdata", "failed", name)
	if err != nil {
		if !errors.Is(err, fs.ErrNotExist) {
			t.Fatal(err)
		}
		write(t, failed, got)
		t.Errorf("there is no picture %s yet; what was drawn is in %s", name, failed)
		return
	}
	if want.Bounds() != got.Bounds() {
		write(t, failed, got)
		t.Errorf("%s is %v large, what was drawn is %v; see %s", name, want.Bounds().Size(), got.Bounds().Size(), failed)
		return
	}
	if n, where := Differ(got, want); n > 0 {
		write(t, failed, got)
		t.Errorf("%s differs in %d points within %v; see %s", name, n, where, failed)
	}
}

// Differ counts the points whose colours differ by more than a little, and
// returns the box around them.
func Differ(a, b *image.RGBA) (n int, where image.Rectangle) {
	for i := 0; i < len(a.Pix); i += 4 {
		for k := range 4 {
			if d := int(a.Pix[i+k]) - int(b.Pix[i+k]); d > Little || d < -Little {
				x, y := i%a.Stride/4, i/a.Stride
				where = where.Union(image.Rect(x, y, x+1, y+1))
				n++
				break
			}
		}
	}
	return n, where
}

func flat(i image.Image) *image.RGBA {
	to := image.NewRGBA(image.Rect(0, 0, i.Bounds().Dx(), i.Bounds().Dy()))
	draw.Draw(to, to.Bounds(), i, i.Bounds().Min, draw.Src)
	return to
}

func read(path string) (*image.RGBA, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	i, err := png.Decode(f)
	if err != nil {
		return nil, err
	}
	return flat(i), nil
}

func write(t testing.TB, path string, i image.Image) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, i); err != nil {
		t.Fatal(err)
	}
}
