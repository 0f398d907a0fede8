package lessons

import (
	"fmt"

	"lampblack/app/lesson"
	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
	"lampblack/patch"
	"lampblack/patch/kind"
)

// stepOf says which step it is.
func (c *Column) stepOf() string { return fmt.Sprintf("step %d of %d", c.step+1, len(c.at.Steps)) }

func (c *Column) stepRows(p *leaf.Pen) {
	s := c.at.Steps[c.step]
	c.gap(0.2)
	if !c.taught() {
		c.paragraph(p, look.Emphasis, "Something else is on the bench.")
		c.word(p, look.Body, "reset", "put this step on it", c.reset)
		c.gap(0.6)
	}
	c.paragraph(p, look.Body, s.Text)
	c.moveRows(p, s)
	c.label("watch", "instrument", "the "+s.Watch.Instrument, func() { c.Enlarge(s.Watch.Instrument) })
	c.paragraph(p, look.Body, s.Watch.Text)
	c.probesRow(s)
	c.label("listen", "", "", nil)
	c.paragraph(p, look.Body, s.Listen)
	if text := c.playing(); text != "" {
		c.paragraph(p, look.Quiet, text)
	}
	c.answerRows(p, s.Question)
}

// playing says what makes the patch sound, if it does not by itself.
func (c *Column) playing() string {
	if len(c.at.Memory.Notes) > 0 {
		return "Space plays its notes."
	}
	for _, m := range c.at.Patch.Modules {
		if m.Kind == "memory" {
			return "Hold the key A."
		}
	}
	return ""
}

// moveRows show the one control that moves: where it stands between A and B.
func (c *Column) moveRows(p *leaf.Pen, s lesson.Step) {
	at := s.Move.Control
	c.label("turn", "control", at.Module+" / "+at.Name, func() { c.Choose(at, true) })
	if _, there := c.setting(at); !there || !c.taught() {
		return
	}
	c.add(3.25, func(p *leaf.Pen, base float32) { c.writeRail(p, s.Move, base) }, "from", "to")
	word := "let it go by itself"
	if c.sweep.on {
		word = "hold it here"
	}
	const set = "as the lesson sets it"
	if p.Wide(look.Body, "let it go by itself"+set)+p.Em > p.Width-2*margin*p.Em {
		c.word(p, look.Body, "by itself", word, c.toggleSweep)
		c.add(lineRoom+0.1, func(p *leaf.Pen, base float32) { c.writeReset(p, p.Em*margin, base, set) }, "reset")
		return
	}
	c.add(lineRoom+0.1, func(p *leaf.Pen, base float32) {
		place, _ := p.Word("by itself", look.Body, p.Em*margin, base, word)
		place.Tap = c.toggleSweep
		c.writeReset(p, p.Width-p.Em*margin-p.Wide(look.Body, set), base, set)
	}, "by itself", "reset")
}

// writeReset offers to put everything back, or says that it stands so.
func (c *Column) writeReset(p *leaf.Pen, x, base float32, word string) {
	if c.asSet() {
		p.Tinted(look.Body, p.Ink.Quiet, x, base, word)
		return
	}
	place, _ := p.Word("reset", look.Body, x, base, word)
	place.Tap = c.reset
}

// asSet tells whether the bench sounds as the lesson sets it.
func (c *Column) asSet() bool {
	set := c.at.At(c.step, 0)
	return len(patch.Compare(set, *c.session.Patch(), kind.Catalogue)) == 0
}

// writeRail draws the way of the control from A to B as a short ruler without
// marks: the ends can be pressed, the index is where it stands.
func (c *Column) writeRail(p *leaf.Pen, move lesson.Move, base float32) {
	x, right := p.Em*margin, p.Width-p.Em*margin
	now, _ := c.setting(move.Control)
	part, on := c.part()
	line := base + p.Em*0.55
	p.Level(x, line, right-x, p.Ink.Line)
	p.Upright(x, line-p.Em*0.3, p.Em*0.6, p.Ink.Drawn)
	p.Upright(right-1, line-p.Em*0.3, p.Em*0.6, p.Ink.Drawn)
	if on {
		p.Box(x+(right-x-2)*float32(part), line-p.Em*0.5, 2, p.Em, p.Ink.Drawn, nil)
	}
	from, to := look.Shown(move.From.String()), look.Shown(move.To.String())
	under := base + p.Em*1.85
	place, left := p.Word("from", look.Figures, x, under, from)
	place.Tap = func() { c.stand(0) }
	at := right - p.Wide(look.Figures, to)
	place, _ = p.Word("to", look.Figures, at, under, to)
	place.Tap = func() { c.stand(1) }
	text := look.Shown(now.String())
	if !on {
		text = "now " + text
	}
	if wide := p.Wide(look.Figures, text); at-left > wide+p.Em*1.6 && text != from && text != to {
		middle := min(max(x+(right-x)*float32(part)-wide/2, left+p.Em*0.8), at-wide-p.Em*0.8)
		p.Tinted(look.Figures, p.Ink.Modulation, middle, under, text)
	}
}

// probesRow says where the probes stand, each in its own ink.
func (c *Column) probesRow(s lesson.Step) {
	if !c.probed() {
		c.add(lineRoom+0.1, func(p *leaf.Pen, base float32) {
			place, _ := p.Word("probes", look.Quiet, p.Em*margin, base, "put the probes where it looks")
			place.Tap = func() { c.probe(c.step) }
		}, "probes")
		return
	}
	c.add(lineRoom, func(p *leaf.Pen, base float32) {
		width := p.Width - 2*margin*p.Em
		if s.Watch.B.Module != "" {
			width = width/2 - p.Em*0.4
		}
		p.Tinted(look.Quiet, p.Ink.ProbeA, p.Em*margin, base, look.Quiet.Fit("A  "+s.Watch.A.String(), width, 1))
		if s.Watch.B.Module != "" {
			p.Tinted(look.Quiet, p.Ink.ProbeB, p.Em*(margin+0.8)+width, base, look.Quiet.Fit("B  "+s.Watch.B.String(), width, 1))
		}
	})
}
