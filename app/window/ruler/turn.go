package ruler

import (
	"fmt"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"lampblack/app/window/look"
)

// A kind may have more controls than the panel has room for. Whole rows are
// seen, never a part of one; the wheel, Tab and Control with the page keys turn
// to the others, and a mark in the head says which they are.

// wholeRows returns as much of height as holds whole rows, if the panel shows
// nothing but rulers and there are more than fit.
func (p *Rulers) wholeRows(width, height float32) float32 {
	if p.help || len(p.rulers) == 0 {
		return height
	}
	if p.table != nil {
		row := p.rulers[0].MinSize().Height // the table is as high as some of them
		return max(float32(int(height/row))*row, min(height, p.table.height))
	}
	p.column.Resize(fyne.NewSize(width, p.column.Size().Height))
	fits := float32(0)
	for _, row := range p.column.Objects {
		foot := row.Position().Y + row.Size().Height
		if foot > height {
			return max(fits, min(height, 4*look.Em()))
		}
		fits = foot
	}
	return height
}

// Turn shows the next page of rulers, or the one before (by -1).
func (p *Rulers) Turn(by int) {
	first, last := p.seen()
	switch {
	case by > 0 && last < len(p.rulers):
		p.turnTo(p.rulers[last].Position().Y)
	case by < 0 && first > 1:
		before := p.rulers[first-2]
		foot := before.Position().Y + before.Size().Height - p.scroll.Size().Height
		for _, r := range p.rulers {
			if r.Position().Y >= foot {
				p.turnTo(r.Position().Y)
				return
			}
		}
	case by < 0:
		p.turnTo(0)
	}
}

// turnWheel turns by rows.
func (p *Rulers) turnWheel(ev *fyne.ScrollEvent) {
	if ev.Scrolled.DY == 0 {
		return
	}
	if p.help {
		p.scroll.Scroll.Scrolled(ev)
		return
	}
	notches := max(int(math.Round(math.Abs(float64(ev.Scrolled.DY)/notch))), 1)
	for range notches {
		p.turnTo(p.boundary(ev.Scrolled.DY < 0))
	}
}

// boundary returns where the row begins that is the next below the upper edge
// of what is seen, or the next above it.
func (p *Rulers) boundary(below bool) float32 {
	at := p.scroll.Offset.Y
	best := at
	for _, row := range p.column.Objects {
		y := row.Position().Y
		if below && y > at+1 && (best == at || y < best) || !below && y < at-1 && (best == at || y > best) {
			best = y
		}
	}
	return best
}

// fitTable gives the table the height that is seen, within what is good to
// draw on.
func (p *Rulers) fitTable(height float32) {
	if p.table == nil {
		return
	}
	em, most := look.Em(), height
	if height > 24*em {
		most = min(height-8*em, 26*em) // rulers are seen below
	}
	row := float32(2.7) * em
	if len(p.rulers) > 0 {
		row = p.rulers[0].MinSize().Height
	}
	p.table.height = max(float32(int(most/row))*row, 8.5*em)
}

// turnTo scrolls so that the row nearest to y is the topmost.
func (p *Rulers) turnTo(y float32) {
	last := max(p.column.MinSize().Height-p.scroll.Size().Height, 0)
	best := float32(0)
	for _, row := range p.column.Objects {
		if at := row.Position().Y; diff(at, y) < diff(best, y) {
			best = at
		}
	}
	p.scrollTo(min(best, last))
}

func (p *Rulers) scrollTo(y float32) {
	p.scroll.ScrollToOffset(fyne.NewPos(0, y))
	p.turning.Refresh()
}

func diff(a, b float32) float32 { return max(a-b, b-a) }

// reveal turns so far that a ruler is seen.
func (p *Rulers) reveal(row fyne.CanvasObject) {
	top, foot := row.Position().Y, row.Position().Y+row.Size().Height
	at, height := p.scroll.Offset.Y, p.scroll.Size().Height
	switch {
	case top < at:
		p.scrollTo(top)
	case foot > at+height:
		p.scrollTo(foot - height)
	}
}

// seen returns the numbers of the first and the last ruler that are seen
// whole, from 1 on.
func (p *Rulers) seen() (first, last int) {
	at, height := p.scroll.Offset.Y, p.scroll.Size().Height
	for i, r := range p.rulers {
		top := r.Position().Y
		if top >= at-1 && top+r.Size().Height <= at+height+1 {
			if first == 0 {
				first = i + 1
			}
			last = i + 1
		}
	}
	return first, last
}

// turnMark says which of the rulers are seen, where not all are; a click shows
// the next ones.
type turnMark struct {
	widget.BaseWidget
	p    *Rulers
	text *canvas.Text
}

func newTurnMark(p *Rulers) *turnMark {
	m := &turnMark{p: p, text: &canvas.Text{}}
	m.ExtendBaseWidget(m)
	return m
}

func (m *turnMark) says() string {
	first, last := m.p.seen()
	all := len(m.p.rulers)
	switch {
	case all == 0 || first == 1 && last == all:
		return ""
	case first == 0:
		return fmt.Sprintf("%d controls below ↓", all)
	case last < all:
		return fmt.Sprintf("%d–%d of %d ↓", first, last, all)
	}
	return fmt.Sprintf("%d–%d of %d ↑", first, last, all)
}

// Tapped shows the next rulers, after the last ones the first.
func (m *turnMark) Tapped(*fyne.PointEvent) {
	if _, last := m.p.seen(); last == len(m.p.rulers) {
		m.p.turnTo(0)
		return
	}
	m.p.Turn(1)
}

// Cursor is fyne's.
func (m *turnMark) Cursor() desktop.Cursor { return desktop.PointerCursor }

// CreateRenderer is fyne's.
func (m *turnMark) CreateRenderer() fyne.WidgetRenderer {
	r := &turnRenderer{m}
	r.Refresh()
	return r
}

type turnRenderer struct{ m *turnMark }

func (r *turnRenderer) Layout(size fyne.Size) {
	least := r.m.text.MinSize()
	r.m.text.Move(look.Whole(fyne.NewPos(size.Width-least.Width, size.Height-least.Height)))
	r.m.text.Resize(least)
}

// MinSize keeps the room of the longest text, so that what stands beside it
// does not move.
func (r *turnRenderer) MinSize() fyne.Size {
	all := len(r.m.p.rulers)
	if all == 0 {
		return fyne.NewSize(0, look.Quiet.Height())
	}
	longest := fmt.Sprintf("%d–%d of %d ↓", all, all, all)
	if r.m.p.table != nil || r.m.p.help {
		longest = fmt.Sprintf("%d controls below ↓", all)
	}
	return look.Quiet.Measure(longest).AddWidthHeight(look.Em(), 0)
}

func (r *turnRenderer) Refresh() {
	look.Quiet.Dress(r.m.text)
	r.m.text.Text = r.m.says()
	r.m.text.Color = look.Now().Drawn
	r.Layout(r.m.Size())
	canvas.Refresh(r.m.text)
}

func (r *turnRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.m.text} }
func (r *turnRenderer) Destroy()                     {}
