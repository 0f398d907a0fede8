package instruments

import (
	"image"
	"image/color"
	"strings"
	"testing"

	"lampblack/app/window/windowtest"
	"lampblack/scope"
)

// In black and white the lines of a picture are told apart by their dashes alone:
// every line is drawn by itself, and the columns that it leaves out are compared.
func TestLinesDifferByDash(t *testing.T) {
	for _, theme := range windowtest.Themes {
		b, p := sines(t, theme, 440)
		b.Show(p, 372, 545).Canvas().Capture()
		p.set(func(w *switches) { w.hold, w.time = true, 1e-3 })
		p.measure.keep()
		listen(b, p, 0.5)
		for name, picture := range map[string]*picture{"scope": p.scope.picture, "spectrum": p.spectrum.picture} {
			seen := map[string]int{}
			for i := range beside { // the difference stands alone
				pattern := patternOf(picture, i)
				if !strings.Contains(pattern, "-") {
					t.Errorf("%s, %s: line %d is not drawn", theme, name, i)
				}
				if other, ok := seen[pattern]; ok {
					t.Errorf("%s, %s: lines %d and %d have the dash %s", theme, name, other, i, pattern)
				}
				seen[pattern] = i
			}
		}
	}
}

// patternOf draws line i alone, level through the middle, and returns its dash.
func patternOf(p *picture, i int) string {
	line, paint := p.line, p.paint
	defer func() { p.line, p.paint = line, paint }()
	p.paint = nil
	p.line = func(dst []scope.Column, k, h int) bool {
		for c := range dst {
			dst[c] = scope.Column{Min: float64(h) / 2, Max: float64(h) / 2}
		}
		return k == i
	}
	frame := p.draw(300, 100).(*image.RGBA)
	pattern := ""
	for x := range 28 {
		if frame.At(x, 50) == (color.RGBA{}) && frame.At(x, 49) == (color.RGBA{}) {
			pattern += " "
		} else {
			pattern += "-"
		}
	}
	return pattern
}
