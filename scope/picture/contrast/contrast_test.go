package contrast

import (
	"image/color"
	"math"
	"testing"
)

func TestContrastOfWhiteAndBlackIs21(t *testing.T) {
	white, black := color.NRGBA{255, 255, 255, 255}, color.NRGBA{0, 0, 0, 255}
	if got := Ratio(white, black); math.Abs(got-21) > 1e-9 {
		t.Errorf("contrast of white and black is %g; WCAG 2.2 says 21", got)
	}
	// The darkest grey that text on white may have, as it is commonly told: #767676.
	if grey := (color.NRGBA{0x76, 0x76, 0x76, 255}); Ratio(white, grey) < 4.5 || Ratio(white, color.NRGBA{0x77, 0x77, 0x77, 255}) >= 4.5 {
		t.Errorf("#767676 on white has %.3f", Ratio(white, grey))
	}
}
