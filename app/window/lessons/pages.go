package lessons

import (
	"fmt"
	"image/color"
	"math"
	"strings"

	"fyne.io/fyne/v2"

	"lampblack/app/lesson"
	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
	"lampblack/patch"
	"lampblack/patch/kind"
)

// listRows lists every lesson: its title, what one learns, and how far one is.
func (c *Column) listRows(p *leaf.Pen) {
	c.faultRows(p)
	if name, ok := c.before(); ok {
		c.word(p, look.Emphasis, "put back", "put "+name+" back on the bench", c.putBack)
		c.gap(0.5)
	}
	for _, e := range c.lessons {
		c.lessonRow(p, e)
	}
}

// before names the work that waits while a lesson is on the bench.
func (c *Column) before() (string, bool) { return c.session.BeforeLesson() }

// faultRows tells what is wrong with a file that is no lesson.
func (c *Column) faultRows(p *leaf.Pen) {
	if c.faulty == "" {
		return
	}
	c.paragraph(p, look.Body, c.faulty+" was not opened:")
	for _, f := range c.faults {
		c.gap(0.25)
		c.paragraph(p, look.Emphasis, f)
	}
	c.word(p, look.Quiet, "put away", "put away", c.putAway)
	c.gap(0.6)
}

// The list says this many lines about a lesson, so far apart, in ems.
const mostAbout, listRoom = 2, 1.3

// shortened ends a line with an ellipsis behind a whole word.
func shortened(line string, width float32) string {
	words := strings.Fields(line)
	for len(words) > 1 && look.Quiet.Measure(strings.Join(words, " ")+" …").Width > width {
		words = words[:len(words)-1]
	}
	return strings.Join(words, " ") + " …"
}

func (c *Column) lessonRow(p *leaf.Pen, e *entry) {
	width := p.Width - 2*margin*p.Em
	steps := progress(e)
	titles := look.Body.Wrap(e.Title, width-p.Wide(look.Quiet, steps)-p.Em*0.8)
	about := look.Quiet.Wrap(e.Text, width)
	if len(about) > mostAbout {
		about = append(about[:mostAbout-1:mostAbout-1], shortened(about[mostAbout-1], width))
	}
	name, height := "lesson "+e.key, listRoom*float32(len(titles)+len(about))+0.6
	c.add(height, func(p *leaf.Pen, base float32) {
		y := base
		p.Right(look.Quiet, p.Width-p.Em*margin, y, steps)
		for _, line := range titles {
			p.Fit(look.Body, p.Em*margin, y, width, line)
			y += p.Em * listRoom
		}
		for _, line := range about {
			p.Fit(look.Quiet, p.Em*margin, y, width, line)
			y += p.Em * listRoom
		}
		at := p.Place(name, p.Em*(margin-0.4), base-p.Em*1.15, width+p.Em*0.8, p.Em*(height-0.25))
		at.Tap = func() { c.open(e) }
	}, name)
}

func (c *Column) openingRows(p *leaf.Pen) {
	e := c.at
	c.gap(0.3)
	c.paragraph(p, look.Body, e.Text)
	if e.own {
		c.gap(0.5)
		c.paragraph(p, look.Emphasis, e.checked)
	}
	c.gap(0.9)
	n := reached(e)
	if n > 1 && n <= len(e.Steps) {
		c.button("go on", fmt.Sprintf("go on at step %d of %d", n, len(e.Steps)), func() { c.take(n - 1) })
		c.gap(0.3)
		c.word(p, look.Body, "begin", "from the beginning", func() { c.take(0) })
	} else {
		c.button("begin", fmt.Sprintf("begin: %s", plural(len(e.Steps), "step")), func() { c.take(0) })
	}
	c.gap(0.4)
	c.paragraph(p, look.Quiet, "It puts its own patch on the bench. Nothing that is there is lost: work that was not kept is set aside, and comes back with one word at the end.")
	c.sourceRows(p)
}

func plural(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

func (c *Column) sourceRows(p *leaf.Pen) {
	if len(c.at.Sources) == 0 {
		return
	}
	c.label("it rests on", "", "", nil)
	for _, s := range c.at.Sources {
		c.paragraph(p, look.Quiet, s)
		c.gap(0.25)
	}
}

func (c *Column) endRows(p *leaf.Pen) {
	c.gap(0.3)
	c.paragraph(p, look.Body, "That was the lesson. What is on the bench stays there as you have set it: go on with it, keep it, or leave it.")
	c.gap(0.7)
	if e := c.following(); e != nil {
		c.button("next lesson", "next lesson", func() { c.open(e) })
		c.paragraph(p, look.Quiet, e.Title)
		c.gap(0.7)
	}
	if name, ok := c.before(); ok {
		c.word(p, look.Body, "put back", "put "+name+" back on the bench", c.putBack)
	}
	c.word(p, look.Body, "again", "the same again", func() { c.take(0) })
	c.word(p, look.Body, "list", "all lessons", c.list)
	c.sourceRows(p)
}

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
	c.label("watch", "instrument", "the "+s.Watch.Instrument, func() { c.Look(s.Watch.Instrument) })
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
	return c.session.LessonOnly() && len(patch.Compare(set, *c.session.Patch(), kind.Catalogue)) == 0
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

// answerRows show the question, and what is measured.
func (c *Column) answerRows(p *leaf.Pen, q lesson.Question) {
	c.label("answer", "", "", nil)
	c.paragraph(p, look.Body, q.Ask)
	if !c.taught() {
		return
	}
	c.yoursRow(q)
	if !c.asks.asked {
		c.gap(0.3)
		c.button("answer", "measure the answer", c.ask)
		return
	}
	c.gap(0.3)
	if c.asks.err != nil && !c.asks.busy {
		c.paragraph(p, look.Emphasis, "It can’t be measured: "+c.asks.err.Error()+".")
		return
	}
	c.measuredRows(p, q)
}

// measuredRows set what is measured beside what the theory says. While it is
// being measured anew the rows stay, so that the page stands still.
func (c *Column) measuredRows(p *leaf.Pen, q lesson.Question) {
	a, ink := c.asks.answered, func(i *look.Ink) color.NRGBA { return i.Drawn }
	value := func(text string) string { return text }
	if c.asks.busy {
		ink, value = func(i *look.Ink) color.NRGBA { return i.Quiet }, func(string) string { return "…" }
	}
	c.pair("measured", value(a.Text), ink)
	switch {
	case a.Theory == nil && a.Why == "":
		return // nothing has been measured yet
	case a.Theory == nil:
		c.paragraph(p, look.Quiet, "no theory says it here: "+a.Why)
		return
	}
	theory := lesson.Words(*a.Theory, q.Unit)
	c.pair("theory", value(theory), ink)
	c.pair("apart (allowed "+lesson.Words(q.Tolerance, q.Unit)+")", value(lesson.Words(a.Value-*a.Theory, q.Unit)), ink)
	c.gap(0.3)
	c.paragraph(p, look.Emphasis, a.Formula)
	if c.asks.working != "" {
		c.paragraph(p, look.Figures, c.asks.working+" = "+theory)
	}
	c.paragraph(p, look.Quiet, a.Source)
}

// yoursRow is the learner's own answer.
func (c *Column) yoursRow(q lesson.Question) {
	c.add(1.9, func(p *leaf.Pen, base float32) {
		base += p.Em * 0.25
		x := p.Text(look.Quiet, p.Em*margin, base, "yours") + p.Em*0.8
		width := p.Em * 5
		p.Put(c.yours.Object(), x, base-p.Em*0.83, width, p.Em*1.5)
		p.Level(x, base+p.Em*0.4, width, p.Ink.Line)
		end := p.Text(look.Quiet, x+width+p.Em*0.4, base, q.Unit)
		place := p.Place("yours", p.Em*margin, base-p.Em*1.1, x-p.Em*margin, p.Em*1.5)
		place.Tap = func() { c.yours.TakeKeyboard(fyne.CurrentApp().Driver().CanvasForObject(c)) }
		p.Fit(look.Emphasis, end+p.Em*0.6, base, p.Width-p.Em*(margin+0.6)-end, c.verdict(q))
	}, "yours")
	if c.asks.wrong != "" {
		c.add(lineRoom, func(p *leaf.Pen, base float32) {
			p.Fit(look.Emphasis, p.Em*margin, base, p.Width-2*margin*p.Em, c.asks.wrong)
		})
	}
}

// verdict says whether the learner's answer is near enough.
func (c *Column) verdict(q lesson.Question) string {
	switch {
	case c.asks.yours == nil || c.asks.busy || !c.asks.asked || c.asks.err != nil:
		return ""
	case q.Within(*c.asks.yours, c.asks.answered.Value):
		return "right"
	case math.Abs(*c.asks.yours) > math.Abs(c.asks.answered.Value):
		return "not yet: less"
	}
	return "not yet: more"
}
