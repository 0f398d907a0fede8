package golden

import (
	"image"
	"testing"
)

func TestALittleIsNoDifferenceAndMoreIsOne(t *testing.T) {
	a, b := image.NewRGBA(image.Rect(0, 0, 8, 8)), image.NewRGBA(image.Rect(0, 0, 8, 8))
	b.Pix[4*10] = Little
	if n, _ := Differ(a, b); n != 0 {
		t.Errorf("%d points differ by a little", n)
	}
	b.Pix[4*10] = Little + 1
	n, where := Differ(a, b)
	if n != 1 || where != image.Rect(2, 1, 3, 2) {
		t.Errorf("%d points differ within %v; one does, at 2, 1", n, where)
	}
}
