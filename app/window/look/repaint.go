package look

import "fyne.io/fyne/v2"

// Repaint has the canvas on which o stands painted again, without making any
// picture in o anew. Refreshing a widget would free the pictures of everything
// within it; a view that only moves its parts, or sets other words and colours
// of lines, asks for this.
func Repaint(o fyne.CanvasObject) {
	if c, ok := fyne.CurrentApp().Driver().CanvasForObject(o).(interface{ SetDirty() }); ok {
		c.SetDirty()
	}
}
