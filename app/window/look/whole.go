package look

import (
	"math"

	"fyne.io/fyne/v2"
)

// Whole returns the place on whole units that is nearest to pos. A text that
// stands between two pixels is blurred by a graphics card, and lines that are
// to meet miss each other.
func Whole(pos fyne.Position) fyne.Position {
	return fyne.NewPos(float32(math.Round(float64(pos.X))), float32(math.Round(float64(pos.Y))))
}
