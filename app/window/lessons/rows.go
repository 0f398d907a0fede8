package lessons

import (
	"fmt"
	"image/color"

	"lampblack/app/desk"
	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
	"lampblack/app/window/told"
)

// row is one line of a page, or a few that belong together.
type row struct {
	height float32  // in ems
	names  []string // of its places: the keyboard brings the row into view
	write  func(p *leaf.Pen, base float32)
}

const (
	margin   = 1.3  // of the column, in ems
	lineRoom = 1.38 // from one line to the next

	underHead  = 0.35 // from the line under the head to the rows
	footHeight = 3.6  // from the line over the foot down
	outside    = -1e5 // where rows stand that are not seen, so that the keyboard still reaches their places
)

// write writes the page: its head, its foot, and of the rows between what fits.
func (c *Column) write(p *leaf.Pen) {
	all := p.Place("page", 0, 0, p.Width, p.Height)
	all.Step, all.Unmarked, all.Unlisted = c.roll, true, true
	c.rows = c.rows[:0]
	c.noticeRow(p)
	title, where := "Lessons", ""
	switch c.page {
	case ofOpening:
		title, where = c.at.Title, progress(c.at)
		c.openingRows(p)
	case ofStep:
		title, where = c.at.Title, c.stepOf()
		c.stepRows(p)
	case ofEnd:
		title, where = c.at.Title, "the end"
		c.endRows(p)
	default:
		c.listRows(p)
	}
	c.writeRows(p, c.headHeight(p, title), p.Height-p.Em*(footHeight+0.3)) // first: the keyboard comes here
	c.writeFoot(p)
	c.writeHead(p, title, where)
}

// noticeRow tells what belongs to the contents, whose place this is.
func (c *Column) noticeRow(p *leaf.Pen) {
	width := p.Width - 2*margin*p.Em
	high := told.Height(c.session, desk.AtContents, width)
	if high == 0 {
		return
	}
	c.add(high/p.Em+0.6, func(p *leaf.Pen, base float32) {
		told.Notices(p, c.session, desk.AtContents, p.Em*margin, base-p.Em*0.7, width)
	}, fmt.Sprintf("put away %d", desk.AtContents))
}

// writeRows writes the rows between two heights.
func (c *Column) writeRows(p *leaf.Pen, top, foot float32) {
	y := make([]float32, len(c.rows)+1)
	for i, r := range c.rows {
		y[i+1] = y[i] + r.height*p.Em
	}
	room := foot - top
	c.tops = y
	c.most = 0
	if over := y[len(c.rows)] - room; over > 0 {
		c.most = c.topAt(over)
	}
	c.reveal(y, room)
	if c.asks.show {
		c.off, c.asks.show = c.most, false
	}
	c.off = min(max(c.off, 0), c.most)
	mark := p.Mark()
	for i, r := range c.rows {
		at := top + y[i] - c.off
		if at < top-1 || at+r.height*p.Em > foot+1 {
			at = outside
		}
		r.write(p, at+p.Em)
	}
	p.Turn(mark, c.roll)
	line := p.Width - 2*p.Em*margin
	if c.off > 1 { // there is more above
		p.Level(p.Em*margin, top-p.Em*underHead, line, p.Ink.Drawn)
	}
	if c.off < c.most-1 { // there is more below
		p.Level(p.Em*margin, p.Height-p.Em*footHeight, line, p.Ink.Drawn)
	}
}

// reveal turns so far that the place is seen to which the keyboard has come.
func (c *Column) reveal(y []float32, room float32) {
	now := c.Standing()
	if now == c.stood {
		return
	}
	c.stood = now
	for i, r := range c.rows {
		for _, name := range r.names {
			if name != now || name == "" {
				continue
			}
			if y[i] < c.off {
				c.off = y[i]
			}
			if y[i+1] > c.off+room {
				c.off = c.topAt(y[i+1] - room)
			}
			return
		}
	}
}

// topAt returns where the first row begins that begins at y or below: pages are
// turned so far that a whole row is the first.
func (c *Column) topAt(y float32) float32 {
	for _, top := range c.tops {
		if top >= y-0.5 {
			return top
		}
	}
	return y
}

// roll turns the rows by the wheel, about three lines a notch.
func (c *Column) roll(n int) {
	way := -3 * lineRoom * look.Em() * float32(n)
	to := c.topAt(c.off + way)
	for i := len(c.tops) - 1; i >= 0 && way < 0; i-- { // upwards to the row above
		if to = c.tops[i]; to <= c.off+way {
			break
		}
	}
	c.off = min(max(to, 0), c.most)
	c.Refresh()
}

func (c *Column) add(height float32, write func(p *leaf.Pen, base float32), names ...string) {
	c.rows = append(c.rows, row{height, names, write})
}

// gap leaves room, in ems.
func (c *Column) gap(height float32) { c.add(height, func(*leaf.Pen, float32) {}) }

// paragraph sets a text line by line, each a row, so that a page turns by lines.
func (c *Column) paragraph(p *leaf.Pen, style look.Style, text string) {
	for _, line := range style.Wrap(look.Shown(text), p.Width-2*margin*p.Em) {
		c.add(lineRoom, func(p *leaf.Pen, base float32) { p.Fit(style, p.Em*margin, base, p.Width-2*margin*p.Em, line) })
	}
}

// label sets the name of what follows, and beside it a word that can be
// pressed, or nothing.
func (c *Column) label(name, place, word string, tap func()) {
	c.gap(0.55)
	c.add(1.5, func(p *leaf.Pen, base float32) {
		end := p.Tinted(look.Caps, p.Ink.Quiet, p.Em*margin, base, name)
		if word == "" {
			return
		}
		width := p.Width - p.Em*margin - end - p.Em*0.6
		at, _ := p.Word(place, look.Emphasis, end+p.Em*0.6, base, look.Emphasis.Fit(word, width, 1))
		at.Tap = tap
	}, place)
}

// word sets a word that can be pressed on a line of its own.
func (c *Column) word(p *leaf.Pen, style look.Style, place, word string, tap func()) {
	lines := style.Wrap(word, p.Width-2*margin*p.Em)
	c.add(lineRoom*float32(len(lines))+0.1, func(p *leaf.Pen, base float32) {
		wide := float32(0)
		for i, line := range lines {
			end := p.Fit(style, p.Em*margin, base+p.Em*lineRoom*float32(i), p.Width-2*margin*p.Em, line)
			wide = max(wide, end-p.Em*margin)
		}
		at := p.Place(place, p.Em*margin, base-p.Em*1.1, wide, p.Em*(lineRoom*float32(len(lines))+0.15))
		at.Tap = tap
	}, place)
}

// button sets what is to be pressed first.
func (c *Column) button(place, word string, tap func()) {
	c.add(2.5, func(p *leaf.Pen, base float32) {
		wide := p.Wide(look.Caps, word) + p.Em*1.6
		y := base - p.Em*0.85
		p.Box(p.Em*margin, y, wide, p.Em*2, nil, p.Ink.Drawn)
		p.Text(look.Caps, p.Em*(margin+0.8), y+p.Em*1.3, word)
		at := p.Place(place, p.Em*margin, y, wide, p.Em*2)
		at.Tap, at.Unmarked = tap, true
	}, place)
}

// pair sets a name and a value that stands at the right.
func (c *Column) pair(name, value string, ink func(*look.Ink) color.NRGBA) {
	c.add(lineRoom, func(p *leaf.Pen, base float32) {
		at := p.RightTinted(look.Figures, ink(p.Ink), p.Width-p.Em*margin, base, look.Shown(value))
		p.Fit(look.Quiet, p.Em*margin, base, at-p.Em*(margin+0.5), name)
	})
}
