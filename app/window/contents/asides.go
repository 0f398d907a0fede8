package contents

import (
	"fmt"
	"slices"

	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
	"lampblack/notebook"
)

// asideRows list the work that gave way to other work without being kept.
func (c *Column) asideRows() []row {
	asides := c.session.Asides()
	if len(asides) == 0 {
		return nil
	}
	rows := []row{{height: 2.4, write: func(p *leaf.Pen, y float32) {
		p.Text(look.Caps, margin(p), y+p.Em*1.5, "set aside")
		p.Level(margin(p), y+p.Em*2.1, p.Width-2*margin(p), p.Ink.Faint)
	}}}
	for _, a := range asides {
		rows = append(rows, c.asideRow(a))
	}
	return rows
}

func (c *Column) asideRow(a notebook.Aside) row {
	key := fmt.Sprintf("aside %d", a.ID)
	open := key == c.chosen
	height := float32(1.95)
	if open {
		height += 1.6
	}
	return row{key: key, height: height, enter: func() { c.session.TakeUpAside(a.ID) }, write: func(p *leaf.Pen, y float32) {
		c.choice(p, key, y, p.Em*1.9)
		base := y + p.Em*1.3
		end := p.Text(look.Quiet, indent(p), base, a.Saved.Local().Format("2 Jan 15:04"))
		p.Fit(look.Body, end+p.Em*0.6, base, p.Width-margin(p)*0.8-end-p.Em*0.6, asideLine(a))
		if !open {
			return
		}
		place, end := p.Word("take up", look.Quiet, indent(p), y+p.Em*2.8, "take up")
		place.Tap, place.Unlisted = func() { c.session.TakeUpAside(a.ID) }, true
		place, _ = p.Word("throw away", look.Quiet, end+p.Em*0.85, y+p.Em*2.8, "throw away")
		place.Tap, place.Unlisted = func() { c.session.DropAside(a.ID) }, true
	}}
}

// asideLine tells set-aside work from another: its note, else its patch.
func asideLine(a notebook.Aside) string {
	if line := firstLine(a.Note); line != "" {
		return line
	}
	if a.Patch.Name != "" {
		return a.Patch.Name
	}
	names := make([]string, 0, len(a.Patch.Modules))
	for _, m := range a.Patch.Modules {
		names = append(names, m.Name)
	}
	slices.Sort(names)
	switch len(names) {
	case 0:
		return "no module yet"
	case 1:
		return names[0]
	}
	return fmt.Sprintf("%s and %d more", names[0], len(names)-1)
}
