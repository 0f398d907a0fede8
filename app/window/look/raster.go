package look

import (
	"image"

	"fyne.io/fyne/v2/canvas"
)

// NewRaster returns a picture that draw makes, of as many pixels as it takes on
// the screen, and that is shown as it is. The toolkit would have the graphics
// library blend neighbours, for the same picture: without a graphics processor that
// was 8 % of all the work for a frame (1440x900).
func NewRaster(draw func(w, h int) image.Image) *canvas.Raster {
	r := canvas.NewRaster(draw)
	r.ScaleMode = canvas.ImageScalePixels
	return r
}
