package contents

import (
	"fmt"

	"fyne.io/fyne/v2"

	"lampblack/app/desk"
	"lampblack/app/window/leaf"
)

// writeList writes the rows that fit, from the first one shown.
func (c *Column) writeList(p *leaf.Pen) {
	c.rows = c.listRows(p)
	c.first = min(max(c.first, 0), max(len(c.rows)-1, 0))
	c.fillUp(p)
	all := p.Place("page", 0, 0, p.Width, p.Height)
	all.Step, all.Unmarked, all.Unlisted = c.turn, true, true
	y := p.Em * 0.4
	for i := c.first; i < len(c.rows); i++ {
		r := c.rows[i]
		if y+r.height*p.Em > p.Height {
			if c.first > 0 || i < len(c.rows) {
				p.Level(p.Em*1.3, p.Height-1, p.Width-p.Em*2.6, p.Ink.Faint) // there is more below
			}
			break
		}
		mark := p.Mark()
		r.write(p, y)
		p.Turn(mark, c.turn)
		y += r.height * p.Em
	}
}

// fillUp brings earlier rows into view where room is left at the end.
func (c *Column) fillUp(p *leaf.Pen) {
	for c.first > 0 && c.heightFrom(c.first-1, len(c.rows)-1)*p.Em+p.Em*0.4 <= p.Height {
		c.first--
	}
}

func (c *Column) heightFrom(first, last int) (ems float32) {
	for i := first; i <= last; i++ {
		ems += c.rows[i].height
	}
	return ems
}

func (c *Column) turn(n int) {
	c.first = min(max(c.first-2*n, 0), max(len(c.rows)-1, 0))
	c.list.Refresh()
}

// key takes the keys of the list while it has the keyboard.
func (c *Column) key(k fyne.KeyName) bool {
	switch k {
	case fyne.KeyUp:
		c.walk(-1)
	case fyne.KeyDown:
		c.walk(1)
	case fyne.KeyPageUp:
		c.walk(-8)
	case fyne.KeyPageDown:
		c.walk(8)
	case fyne.KeyReturn, fyne.KeyEnter:
		c.enter(c.chosen)
	case fyne.KeyF2:
		c.enter(c.chosen)
	case fyne.KeyF5:
		return c.fileHere()
	case fyne.KeyF7, fyne.KeyF8, fyne.KeyF9:
		return c.act(k)
	case fyne.KeyEscape:
		if c.query == "" {
			return false
		}
		c.find.SetText("")
	default:
		return false
	}
	return true
}

// act does what a function key asks of the chosen take.
func (c *Column) act(k fyne.KeyName) bool {
	i := c.index(c.chosen)
	if i < 0 || c.rows[i].take == 0 {
		return false
	}
	id := c.rows[i].take
	switch k {
	case fyne.KeyF7:
		c.audition(id)
	case fyne.KeyF8:
		c.session.Prove(id)
	case fyne.KeyF9:
		if h, ok := c.session.Heading(id); ok {
			c.session.Star(id, !h.Star)
		}
	}
	return true
}

// fileHere files the work on the bench under the chosen cue.
func (c *Column) fileHere() bool {
	i := c.index(c.chosen)
	if i < 0 || c.rows[i].cue == 0 {
		return false
	}
	for _, job := range c.session.Contents() {
		for _, cue := range job.Cues {
			if cue.Cue.ID == c.rows[i].cue {
				c.session.Do(desk.FileUnder(cue.Cue))
			}
		}
	}
	return true
}

// come shows where the keyboard is when it comes to the list: at the take that
// is on the bench, if no row is chosen and none is being pressed.
func (c *Column) come(on bool) {
	if !on || c.list.Pressed() || c.index(c.chosen) >= 0 {
		return
	}
	c.choose(fmt.Sprintf("take %d", c.session.Bench().From))
	if c.index(c.chosen) < 0 {
		c.walk(1)
	}
}

func (c *Column) index(key string) int {
	for i, r := range c.rows {
		if r.key == key && key != "" {
			return i
		}
	}
	return -1
}

// walk chooses the row n rows on.
func (c *Column) walk(n int) {
	by := 1
	if n < 0 {
		by, n = -1, -n
	}
	at := c.index(c.chosen)
	if at < 0 && by < 0 {
		at = len(c.rows)
	}
	found := at
	for i := at + by; i >= 0 && i < len(c.rows) && n > 0; i += by {
		if c.rows[i].key != "" {
			found = i
			n--
		}
	}
	if found >= 0 && found < len(c.rows) {
		c.choose(c.rows[found].key)
	}
}

// choose marks a row and brings it into view.
func (c *Column) choose(key string) {
	c.chosen = key
	c.list.Refresh()
	at := c.index(key)
	if at < 0 {
		return
	}
	height, em := c.list.Size().Height, emOf()
	if at < c.first {
		c.first = at
	}
	for c.first < at && c.heightFrom(c.first, at)*em+em*0.4 > height {
		c.first++
	}
	c.list.Refresh()
}

func (c *Column) enter(key string) {
	if i := c.index(key); i >= 0 && c.rows[i].enter != nil {
		c.rows[i].enter()
	}
}
