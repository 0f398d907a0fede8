package look

import (
	"fyne.io/fyne/v2"

	"lampblack/assets"
)

// The fonts, taken out of the program itself. See assets/fonts/SOURCES.
var (
	textFont     = font("LampblackText-Regular.otf")
	italicFont   = font("LampblackText-Italic.otf")
	semiboldFont = font("LampblackText-Semibold.otf")
	capsFont     = font("LampblackCaps-Regular.otf")
	figuresFont  = font("LampblackFigures-Regular.otf")
)

func font(name string) fyne.Resource {
	file, err := assets.Files.ReadFile("fonts/" + name)
	if err != nil {
		panic("look: a font is not in the program: " + err.Error()) // a mistake in building, not a user's
	}
	return fyne.NewStaticResource(name, file)
}
