package ruler

import (
	"fyne.io/fyne/v2"

	"lampblack/app/window/look"
)

// rowsLayout stacks rows at full width; a text that breaks its lines is asked
// for its height at that width. Where there is room for two rulers of a good
// length, they stand side by side.
type rowsLayout struct{}

// Widths in ems.
const (
	pairedFrom = 68 // from here on two rulers stand side by side
	pairGap    = 2
	manyRulers = 5 // fewer than these are not paired: they are seen at once, and finer, below each other
)

// paired tells whether rulers stand side by side.
func paired(rows []fyne.CanvasObject, width float32) bool {
	n := 0
	for _, row := range rows {
		if _, ruler := row.(*Ruler); ruler {
			n++
		}
	}
	return n >= manyRulers && width >= pairedFrom*look.Em()
}

func (rowsLayout) Layout(rows []fyne.CanvasObject, size fyne.Size) {
	two := paired(rows, size.Width)
	gap := pairGap * look.Em()
	half := (size.Width - gap) / 2
	y, left := float32(0), float32(-1) // left: the height of a ruler at the left that waits for its neighbour
	for _, row := range rows {
		if _, ruler := row.(*Ruler); ruler && two {
			if left < 0 {
				left = set(row, 0, y, half)
				continue
			}
			y += max(left, set(row, half+gap, y, half))
			left = -1
			continue
		}
		y += max(left, 0)
		left = -1
		in := inset(row)
		y += set(row, in, y, size.Width-2*in) + in
	}
}

// set puts a row at its place and returns its height at that width.
func set(row fyne.CanvasObject, x, y, width float32) float32 {
	row.Move(look.Whole(fyne.NewPos(x, y)))
	row.Resize(fyne.NewSize(width, row.Size().Height))
	height := row.MinSize().Height
	row.Resize(fyne.NewSize(width, height))
	return height
}

// inset is the margin of what is no ruler: rulers have their own.
func inset(row fyne.CanvasObject) float32 {
	if _, ruler := row.(*Ruler); ruler {
		return 0
	}
	return 0.5 * look.Em()
}

func (rowsLayout) MinSize(rows []fyne.CanvasObject) fyne.Size {
	size := fyne.NewSize(0, 0)
	width := float32(0)
	for _, row := range rows {
		width = max(width, row.Size().Width)
	}
	if len(rows) > 0 {
		if _, ruler := rows[len(rows)-1].(*Ruler); ruler && len(rows) > 1 {
			width = max(width, rows[len(rows)-1].Position().X+rows[len(rows)-1].Size().Width)
		}
	}
	two := paired(rows, width)
	left := float32(-1)
	for _, row := range rows {
		least := row.MinSize()
		size.Width = max(size.Width, least.Width)
		if _, ruler := row.(*Ruler); ruler && two {
			if left < 0 {
				left = least.Height
				continue
			}
			size.Height += max(left, least.Height)
			left = -1
			continue
		}
		size.Height += max(left, 0) + least.Height + inset(row)
		left = -1
	}
	size.Height += max(left, 0)
	return size
}
