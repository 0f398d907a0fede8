package windowtest

import (
	"image"
	"image/draw"
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"lampblack/app/window/calm"
	"lampblack/app/window/look"
)

// Flashed is how what a window shows has changed (WCAG 2.2, 2.3.1).
type Flashed struct {
	Most    int     // opposing changes over an area in any second; six are three flashes
	Largest float64 // the largest part of 10 degrees that rose, or fell, with one frame
	Moved   bool    // two frames differed
}

// framesEachSecond are those of Flashes.
const framesEachSecond = 30

// flashClock never runs backwards from one test to the next.
var flashClock time.Duration

// Flashes shows frames of a window, 30 a second by a clock of its own, which next
// makes, and measures what is on the screen. Unguarded, no picture ever waits: the
// clock runs a minute whenever a guard reads it.
func Flashes(t testing.TB, w fyne.Window, frames int, guarded bool, next func(frame int)) (f Flashed) {
	t.Helper()
	defer func(was func() time.Duration) { calm.Clock = was }(calm.Clock)
	flashClock = max(flashClock, calm.Clock()) // guards have drawn by the program's clock already
	calm.Clock = func() time.Duration {
		if !guarded {
			flashClock += time.Minute
		}
		return flashClock
	}
	var meter calm.Meter
	var changes []int
	var last string
	for i := range frames {
		flashClock += time.Second / framesEachSecond
		next(i)
		shot := w.Canvas().Capture()
		page := image.NewRGBA(shot.Bounds())
		draw.Draw(page, page.Bounds(), shot, shot.Bounds().Min, draw.Src)
		f.Moved = f.Moved || i > 0 && last != string(page.Pix)
		last = string(page.Pix)
		if meter.Saw(page, look.Now().Ground, 1) {
			changes = append(changes, i)
		}
		f.Largest = max(f.Largest, meter.Rises, meter.Falls)
	}
	for k, first := range changes {
		n := 0
		for _, at := range changes[k:] {
			if at-first < framesEachSecond {
				n++
			}
		}
		f.Most = max(f.Most, n)
	}
	return f
}
