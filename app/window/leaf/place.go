package leaf

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

// Place is a part of a leaf that answers. Functions that are nil do nothing.
type Place struct {
	Name                string
	X, Y, Width, Height float32

	Tap    func()             // pressed and let go, or Enter
	Double func()             // pressed a second time within 400 ms; Tap came before
	Down   func(x, y float32) // the button went down at a point of the leaf
	Drag   func(x, y float32) // the mouse moved to a point of the leaf with the button down
	Up     func()             // the button went up after Down or Drag, wherever it is
	Step   func(n int)        // scrolled, or up and down keys: n steps up
	Cursor desktop.Cursor     // the mouse over it; nil is the pointing hand if it answers to Tap
	Keys   map[fyne.KeyName]func()

	wheel func(n int) // scrolled, where there is no Step; see Pen.Turn

	Unmarked bool // no line under it while the mouse is over it
	Unlisted bool // arrow keys pass it over
}

func (p *Place) holds(x, y float32) bool {
	return x >= p.X && y >= p.Y && x < p.X+p.Width && y < p.Y+p.Height
}

func (p *Place) answers() bool {
	return p.Tap != nil || p.Double != nil || p.Down != nil || p.Drag != nil || p.Step != nil
}
