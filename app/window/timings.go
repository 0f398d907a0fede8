package window

import (
	"errors"
	"fmt"
	"image/color"
	"os"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"

	"lampblack/app/timing"
	"lampblack/app/window/look"
)

// time counts how fast the window is while the memory plays, and returns what
// writes it into a file. A path of "" counts nothing.
//
// A frame is counted where the toolkit paints: under and over all that the
// window shows lies a point whose colour is only asked for when the point is
// painted. Of the two, the lower one begins the time of painting and the upper
// one ends it. What follows, handing the picture to the screen, belongs to the
// time from one frame to the next.
func (w *Window) time(path string) (report func() error, err error) {
	if path == "" {
		return func() error { return nil }, nil
	}
	file, err := os.Create(path)
	if err != nil {
		return nil, fmt.Errorf("the timings can't be written: %w; the window was not opened", err)
	}
	w.counts = timing.New()
	look.Live.Timed, look.Live.Beaten = w.counts.Part, w.counts.Beat
	w.Until(look.Live.Watch(func() { w.counts.Run(w.session.Playing()) }))
	w.SetContent(container.NewStack(point(w.counts.Begun), w.Content(), point(w.counts.Painted)))
	return func() error {
		look.Live.Timed, look.Live.Beaten = nil, nil
		if err := errors.Join(w.counts.Report().Write(file), file.Close()); err != nil {
			return fmt.Errorf("the timings were not written to %s: %w", path, err)
		}
		return nil
	}, nil
}

// point returns a transparent point that calls painted whenever it is painted.
func point(painted func()) fyne.CanvasObject {
	dot := canvas.NewRectangle(asked(painted))
	dot.Resize(fyne.NewSize(1, 1))
	return container.NewWithoutLayout(dot)
}

// asked is transparent, and tells when somebody wants to know its colour.
type asked func()

// RGBA returns the colour.
func (a asked) RGBA() (r, g, b, alpha uint32) {
	a()
	return color.Transparent.RGBA()
}
