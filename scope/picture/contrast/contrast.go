// Package contrast says how well two colours can be told apart.
//
// Source: WCAG 2.2, "relative luminance" and "contrast ratio". Held by tests
// against the values that it gives for black and white.
package contrast

import (
	"image/color"
	"math"
)

// Luminance is the relative luminance of a colour of sRGB, 0 (black) to 1 (white).
// Opacity does not count.
func Luminance(c color.NRGBA) float64 {
	channel := func(v uint8) float64 {
		s := float64(v) / 255
		if s <= 0.04045 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	return 0.2126*channel(c.R) + 0.7152*channel(c.G) + 0.0722*channel(c.B)
}

// Ratio is the contrast of two colours, 1 (none) to 21 (black and white). Text
// needs 4.5, lines 3.
func Ratio(a, b color.NRGBA) float64 {
	la, lb := Luminance(a), Luminance(b)
	return (max(la, lb) + 0.05) / (min(la, lb) + 0.05)
}
