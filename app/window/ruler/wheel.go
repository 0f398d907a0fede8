package ruler

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// window is what the rows are seen through. It alone answers to the wheel: the
// toolkit (fyne v2.7.1) takes whatever does for a pane of its own, and would
// give it clicks where it is not to be seen.
type window struct {
	container.Scroll
	wheel func(*fyne.ScrollEvent)
}

func newWindow(content fyne.CanvasObject, wheel func(*fyne.ScrollEvent)) *window {
	w := &window{wheel: wheel}
	w.Content, w.Direction = content, container.ScrollVerticalOnly
	w.ExtendBaseWidget(w)
	return w
}

// Scrolled is fyne's.
func (w *window) Scrolled(ev *fyne.ScrollEvent) { w.wheel(ev) }

// turned gives the wheel to the ruler under the mouse, if it is over its scale;
// else other rows are turned to.
func (p *Rulers) turned(ev *fyne.ScrollEvent) {
	at := ev.Position.AddXY(0, p.scroll.Offset.Y)
	for _, r := range p.rulers {
		on := at.Subtract(r.Position())
		if on.X < 0 || on.Y < 0 || on.X >= r.Size().Width || on.Y >= r.Size().Height {
			continue
		}
		over := *ev
		over.Position = on
		if r.Wheel(&over) {
			return
		}
	}
	p.turnWheel(ev)
}
