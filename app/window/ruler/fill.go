package ruler

import (
	"image"
	"image/color"
	"image/draw"
)

func fill(to *image.RGBA, r image.Rectangle, c color.Color) {
	draw.Draw(to, r, image.NewUniform(c), image.Point{}, draw.Over)
}
