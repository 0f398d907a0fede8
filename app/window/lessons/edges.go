package lessons

import (
	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
)

// titleLines are the lines of a title.
func (c *Column) titleLines(p *leaf.Pen, title string) []string {
	return look.Title.Wrap(title, p.Width-2*margin*p.Em)
}

// headHeight returns where the rows begin.
func (c *Column) headHeight(p *leaf.Pen, title string) float32 {
	lines := float32(len(c.titleLines(p, title)))
	if c.page != ofList {
		lines++ // where one is
	}
	return p.Em * (1.75 + 1.5*(lines-1) + 0.6 + underHead)
}

// writeHead writes what page it is, and the way out of it.
func (c *Column) writeHead(p *leaf.Pen, title, where string) {
	width, right := p.Width-2*margin*p.Em, p.Width-margin*p.Em
	base, word := p.Em*1.75, "all lessons"
	if c.page == ofList {
		word = "close"
	}
	for i, line := range c.titleLines(p, title) {
		if i > 0 {
			base += p.Em * 1.5
		}
		p.Fit(look.Title, p.Em*margin, base, width, line)
	}
	at := right - p.Wide(look.Quiet, word)
	if c.page != ofList {
		base += p.Em * 1.5
		end := p.Fit(look.Quiet, p.Em*margin, base, at-p.Em*(margin+0.5), where)
		c.writeWay(p, end+p.Em*0.8, at-p.Em*0.8, base)
	}
	place, _ := p.Word("out", look.Quiet, at, base, word)
	place.Tap = c.out
	if c.off <= 1 {
		p.Level(p.Em*margin, base+p.Em*0.6, width, p.Ink.Faint)
	}
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

// writeFoot writes where to turn, and what keeping does here.
func (c *Column) writeFoot(p *leaf.Pen) {
	top := p.Height - p.Em*footHeight
	x, right := p.Em*margin, p.Width-p.Em*margin
	if c.off >= c.most-1 {
		p.Level(x, top, right-x, p.Ink.Faint)
	}
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
	c.writeMore(p, x+p.Wide(look.Body, leftward.word), right-p.Wide(look.Body, rightward.word), base)
	p.Fit(look.Quiet, x, base+p.Em*1.4, right-x, c.keeping())
}

// writeMore says between two ends that not all of the page is seen.
func (c *Column) writeMore(p *leaf.Pen, left, right, base float32) {
	word, way := "↓ more", c.most
	switch {
	case c.most < 1:
		return
	case c.off >= c.most-1:
		word, way = "↑ top", 0
	}
	wide := p.Wide(look.Quiet, word)
	x := left + (right-left-wide)/2
	if right > p.Width-p.Em*(margin+0.1) { // nothing stands at the right
		x = right - wide
	}
	place, _ := p.Word("more", look.Quiet, x, base, word)
	place.Tap = func() {
		c.off = way
		c.Refresh()
	}
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
		return turn{"open a file", "open a lesson file …", c.Open}, turn{}
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
