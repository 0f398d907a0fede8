package sheet

import (
	"math"

	"fyne.io/fyne/v2"

	"lampblack/app/window/look"
)

// Limits of the zoom, and what is left out when it is small.
const (
	leastZoom = 0.06
	mostZoom  = 4.0
	zoomStep  = 1.2
	readable  = 6.5 // letters smaller than so many pixels are not set
)

// view is the part of the sheet that is seen, and how large.
type view struct {
	off  Point   // what stands at the upper left corner below the top line
	zoom float64 // 1: sheet units are pixels at a text scale of 1
	top  float64 // height of the top line, in the toolkit's units
	size fyne.Size
}

// scale returns how many of the toolkit's units a sheet unit is. It follows the
// size of the text, so that letters always fit their blocks.
func (v view) scale() float64 { return v.zoom * float64(look.Em()) / look.TextSize }

// at returns where a place of the sheet is seen.
func (v view) at(p Point) fyne.Position {
	return fyne.NewPos(float32((p.X-v.off.X)*v.scale()), float32((p.Y-v.off.Y)*v.scale()+v.top))
}

// under returns the place of the sheet that is seen at pos.
func (v view) under(pos fyne.Position) Point {
	return Point{X: v.off.X + float64(pos.X)/v.scale(), Y: v.off.Y + (float64(pos.Y)-v.top)/v.scale()}
}

// seen returns the box that is seen.
func (v view) seen() Box {
	a := v.under(fyne.NewPos(0, float32(v.top)))
	b := v.under(fyne.NewPos(v.size.Width, v.size.Height))
	return span(a, b)
}

// zoomed returns the view enlarged by factor about a place that stays where it
// is seen.
func (v view) zoomed(factor float64, about fyne.Position) view {
	p := v.under(about)
	v.zoom = min(max(v.zoom*factor, leastZoom), mostZoom)
	q := v.under(about)
	v.off = Point{X: v.off.X + p.X - q.X, Y: v.off.Y + p.Y - q.Y}
	return v
}

// What is left around what is fitted into the view, in sheet units: at the sides
// cords need room, above and below a line is enough.
const (
	margin = 2 * rule
	above  = rule
)

// fitted returns the view in which all of b is seen, not larger than 1.
func (v view) fitted(b Box) view {
	unit := v.scale() / v.zoom
	wide := float64(v.size.Width) / unit / (b.width() + 2*margin)
	high := (float64(v.size.Height) - v.top) / unit / (b.height() + 2*above)
	if b.empty() || v.size.Width <= 0 {
		v.off, v.zoom = Point{}, 1
		return v
	}
	v.zoom = min(max(min(wide, high), leastZoom), 1)
	seen := v.seen()
	v.off = Point{X: b.X0 - max(margin, (seen.width()-b.width())/2), Y: b.Y0 - max(above, (seen.height()-b.height())/2)}
	v.off.X, v.off.Y = math.Round(v.off.X), math.Round(v.off.Y)
	return v
}

// showing returns the view moved just so far that b is seen.
func (v view) showing(b Box) view {
	seen := v.seen()
	move := func(off, s0, s1, b0, b1 float64) float64 {
		switch {
		case b0 < s0 || b1-b0 > s1-s0:
			return off + b0 - s0
		case b1 > s1:
			return off + b1 - s1
		}
		return off
	}
	b = b.grown(rule)
	v.off.X = move(v.off.X, seen.X0, seen.X1, b.X0, b.X1)
	v.off.Y = move(v.off.Y, seen.Y0, seen.Y1, b.Y0, b.Y1)
	return v
}
