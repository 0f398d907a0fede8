package meters

import (
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
	"lampblack/app/window/look/golden"
	"lampblack/app/window/plate"
	"lampblack/app/window/windowtest"
)

// alone is a leaf that shows nothing but the plate.
func (s *stand) alone(width, height float32) fyne.Window {
	w := s.Show(leaf.NewTurning(func(p *leaf.Pen) {
		s.p.Write(p, plate.Box{X: p.Em, Y: p.Em, Width: p.Width - 2*p.Em, Height: p.Height - 2*p.Em})
	}), width, height)
	w.Canvas().Capture() // the toolkit draws: sizes are known from here on
	return w
}

// piece is half a minute with all there is to be metered: two tones apart in phase
// that swell, get loud, and are rough in the end.
func piece() (left, right []float64) {
	left, right = sine(24, -20, 440, 0), sine(24, -21, 440, 40)
	for i := range left {
		at := float64(i) / rate
		swell := 1 + 0.4*math.Sin(2*math.Pi*4*at)
		switch {
		case at > 17:
			swell *= 0.6 * (1 + 0.5*math.Sin(2*math.Pi*70*at))
		case at > 8 && at < 11:
			swell *= 5
		case at > 14:
			swell *= 0.3
		}
		left[i] *= swell
		right[i] *= swell
	}
	return left, right
}

func TestPictures(t *testing.T) {
	for _, theme := range windowtest.Themes {
		s := newStand(t, theme)
		left, right := piece()
		s.play(left, right)
		w := s.alone(560, 340)
		s.listen(23)
		golden.Check(t, theme+".png", w.Canvas())
		w.Resize(fyne.NewSize(1000, 640))
		golden.Check(t, "wide-"+theme+".png", w.Canvas())
		w.Resize(fyne.NewSize(420, 300))
		golden.Check(t, "narrow-"+theme+".png", w.Canvas())
		test.ApplyTheme(t, look.ThemeWithText(theme, 24))
		w.Resize(fyne.NewSize(1100, 620))
		golden.Check(t, "large-text-"+theme+".png", w.Canvas())
	}
}
