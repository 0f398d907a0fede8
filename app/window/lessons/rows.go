package lessons

import (
	"image/color"

	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
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
	outside  = -1e5 // where rows stand that are not seen, so that the keyboard still reaches their places
)

// write writes the page: its head, its foot, and of the rows between what fits.
func (c *Column) write(p *leaf.Pen) {
	all := p.Place("page", 0, 0, p.Width, p.Height)
	all.Step, all.Unmarked, all.Unlisted = c.roll, true, true
	c.rows = c.rows[:0]
	var top, foot float32
	switch c.page {
	case ofOpening:
		top, foot = c.writeHead(p, c.at.Title, progress(c.at)), c.writeFoot(p)
		c.openingRows(p)
	case ofStep:
		top, foot = c.writeHead(p, c.at.Title, c.stepOf()), c.writeFoot(p)
		c.stepRows(p)
	case ofEnd:
		top, foot = c.writeHead(p, c.at.Title, "the end"), c.writeFoot(p)
		c.endRows(p)
	default:
		top, foot = c.writeHead(p, "Lessons", ""), c.writeFoot(p)
		c.listRows(p)
	}
	c.writeRows(p, top, foot)
}

// writeRows writes the rows between two heights.
func (c *Column) writeRows(p *leaf.Pen, top, foot float32) {
	y := make([]float32, len(c.rows)+1)
	for i, r := range c.rows {
		y[i+1] = y[i] + r.height*p.Em
	}
	room := foot - top
	c.most = max(y[len(c.rows)]-room, 0)
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
	if c.off > 1 {
		p.Level(p.Em*margin, top-1, p.Width-2*p.Em*margin, p.Ink.Drawn)
	}
	if c.off < c.most-1 { // there is more below
		p.Level(p.Em*margin, foot+1, p.Width-2*p.Em*margin, p.Ink.Drawn)
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
				c.off = y[i+1] - room
			}
			return
		}
	}
}

// roll turns the rows by the wheel, three lines a notch.
func (c *Column) roll(n int) {
	c.off = min(max(c.off-3*lineRoom*look.Em()*float32(n), 0), c.most)
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

// writeHead writes what page it is, and returns where the rows begin.
func (c *Column) writeHead(p *leaf.Pen, title, where string) float32 {
	width := p.Width - 2*margin*p.Em
	word := "all lessons"
	if c.page == ofList {
		word = "close"
	}
	right := p.Width - margin*p.Em
	base := p.Em * 1.75
	if c.page == ofList {
		at := right - p.Wide(look.Quiet, word)
		p.Fit(look.Title, p.Em*margin, base, at-p.Em*(margin+0.5), title)
		place, _ := p.Word("out", look.Quiet, at, base, word)
		place.Tap = c.out
	} else {
		lines := look.Title.Wrap(title, width)
		for i, line := range lines {
			if i > 0 {
				base += p.Em * 1.5
			}
			p.Fit(look.Title, p.Em*margin, base, width, line)
		}
		base += p.Em * 1.45
		at := right - p.Wide(look.Quiet, word)
		end := p.Fit(look.Quiet, p.Em*margin, base, at-p.Em*(margin+0.5), where)
		c.writeWay(p, end+p.Em*0.8, at-p.Em*0.8, base)
		place, _ := p.Word("out", look.Quiet, at, base, word)
		place.Tap = c.out
	}
	base += p.Em * 0.6
	p.Level(p.Em*margin, base, width, p.Ink.Faint)
	return base + p.Em*0.35
}

// writeWay draws a tick for every step, those that are behind filled.
func (c *Column) writeWay(p *leaf.Pen, x, right, base float32) {
	if c.page != ofStep {
		return
	}
	n := len(c.at.Steps)
	gap := min(p.Em*0.75, (right-x)/float32(n))
	if gap < 3 {
		return
	}
	for i := range n {
		y, high := base-p.Em*0.45, p.Em*0.35
		if i == c.step {
			y, high = base-p.Em*0.75, p.Em*0.95
		}
		ink := p.Ink.Line
		if i <= c.step {
			ink = p.Ink.Drawn
		}
		p.Upright(x+gap*float32(i), y, high, ink)
	}
}

// writeFoot writes where to turn, and what keeping does here; it returns where
// the rows end.
func (c *Column) writeFoot(p *leaf.Pen) float32 {
	top := p.Height - p.Em*3.6
	x, right := p.Em*margin, p.Width-p.Em*margin
	p.Level(x, top, right-x, p.Ink.Faint)
	base := top + p.Em*1.45
	leftward, rightward := c.turns()
	for _, w := range []struct {
		turn
		x float32
	}{{leftward, x}, {rightward, right - p.Wide(look.Body, rightward.word)}} {
		if w.word != "" {
			place, _ := p.Word(w.place, look.Body, w.x, base, w.word)
			place.Tap = w.tap
		}
	}
	p.Fit(look.Quiet, x, base+p.Em*1.4, right-x, c.keeping())
	return top - p.Em*0.3
}

// turn is a word at the foot.
type turn struct {
	place, word string
	tap         func()
}

// turns are the words at the foot, left and right; either may be empty.
func (c *Column) turns() (left, right turn) {
	switch {
	case c.page == ofList && c.Open != nil:
		return turn{"open a file", "open a lesson file …", func() { c.Open(c.Read) }}, turn{}
	case c.page == ofList:
		return turn{}, turn{}
	case c.page == ofOpening:
		return turn{"back", "← all lessons", c.back}, turn{}
	case c.page == ofEnd:
		return turn{"back", "← back", c.back}, turn{}
	case c.step+1 == len(c.at.Steps):
		return turn{"back", "← back", c.back}, turn{"next", "to the end →", c.next}
	}
	return turn{"back", "← back", c.back}, turn{"next", "next step →", c.next}
}

// keeping says what a take is kept under, or what is missing.
func (c *Column) keeping() string {
	_, cue, ok := c.session.CueOf()
	switch {
	case c.page == ofList:
		return "to write one: the README in assets/lessons"
	case c.page != ofStep:
		return "PgDn turns on, PgUp back, Esc to the list"
	case !c.session.HasNotebook():
		return "no notebook is open: nothing can be kept"
	case !ok:
		return "Ctrl+K needs a cue: F10 shows the contents"
	}
	return "Ctrl+K keeps what you have set under " + cue.Cue.Number
}
