package window

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"lampblack/app/window/look"
)

// divider is a hairline between two parts of the page that can be dragged.
type divider struct {
	widget.BaseWidget
	upright bool
	moved   func(by float32) // the mouse moved so far since the last call
	ended   func()
}

// reach is how far from its hairline a divider can be taken hold of.
const reach = 4

func newDivider(upright bool, moved func(by float32), ended func()) *divider {
	d := &divider{upright: upright, moved: moved, ended: ended}
	d.ExtendBaseWidget(d)
	return d
}

// CreateRenderer is fyne's.
func (d *divider) CreateRenderer() fyne.WidgetRenderer {
	line := look.NewRule()
	if d.upright {
		line = look.NewUprightRule()
	}
	return widget.NewSimpleRenderer(line)
}

// Dragged is fyne's.
func (d *divider) Dragged(e *fyne.DragEvent) {
	if d.upright {
		d.moved(e.Dragged.DX)
	} else {
		d.moved(e.Dragged.DY)
	}
}

// DragEnd is fyne's.
func (d *divider) DragEnd() { d.ended() }

// Cursor is fyne's.
func (d *divider) Cursor() desktop.Cursor {
	if d.upright {
		return desktop.HResizeCursor
	}
	return desktop.VResizeCursor
}

// MouseIn, MouseMoved and MouseOut let fyne ask for the cursor.
func (d *divider) MouseIn(*desktop.MouseEvent) {}

// MouseMoved is fyne's.
func (d *divider) MouseMoved(*desktop.MouseEvent) {}

// MouseOut is fyne's.
func (d *divider) MouseOut() {}
