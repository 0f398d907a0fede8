// Package plate says what an instrument is that can take the place of the
// sheet, as a plate takes a page of a book: a name, settings in the margin, a
// picture or a table, two lines of readings.
//
//	Plate -> instruments.Large: heading, margin, reading, export
//
// It holds what all plates write alike: figures with their units, and the
// scale of frequencies. Held by tests: figures keep their digits and signs.
package plate

import (
	"image/color"

	"lampblack/app/window/leaf"
)

// Plate is an instrument in the place of the sheet. All methods are called on
// the goroutine of the user interface.
type Plate interface {
	// Name stands in the heading: one or two words, in small letters.
	Name() string
	// Settings returns those that mean anything now, in the order of the margin.
	// Their names differ.
	Settings() []Setting
	// Write draws into an area of the leaf, and puts what moves by itself there
	// as objects of their own.
	Write(p *leaf.Pen, area Box)
	// Redraw draws anew what follows the signal at the probes.
	Redraw()
	// Reading returns two lines of figures, "" for none. A line that begins with
	// "A " or "B " is written in the colour of that probe. What is parted by
	// Between is left out from the end where there is no room.
	Reading() (one, two string)
	// Show tells that the plate begins to be seen, or is not seen any more. What
	// is not seen neither measures nor draws.
	Show(on bool)
	// Beat is called about as often as the screen is drawn, while it is seen.
	Beat()
}

// Hinter is a Plate with places of its own besides the settings.
type Hinter interface {
	// HintAt tells what the place of that name is for, "" if it is none of its own.
	HintAt(place string) string
}

// Listed is a Plate whose own places the keyboard comes to before its settings: a
// list that is gone through.
type Listed interface{ Listed() }

// Writer is a Plate that can be written into files.
type Writer interface {
	// Files returns what can be written now.
	Files() []File
}

// Between stands between the readings of a line.
const Between = "   "

// Setting is a word of an instrument that can be turned.
type Setting struct {
	Name, Text string
	Tap        func()          // pressed; may be nil
	Step       func(n int)     // turned by so many steps; may be nil
	Typed      func(v float64) // takes a typed number in the unit of Text; nil if none can be typed
	Tint       color.Color     // nil is usual ink
	Hint       string          // what it is for
}

// Box is where something lies on a leaf, in the toolkit's units.
type Box struct{ X, Y, Width, Height float32 }

// Picture returns the part of an area in which a picture lies that has scales at
// its left and below.
func (b Box) Picture(em float32) Box {
	return Box{b.X + em*2.3, b.Y, b.Width - em*2.3 - em*0.5, b.Height - em*1.4}
}
