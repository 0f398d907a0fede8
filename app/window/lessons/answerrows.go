package lessons

import (
	"image/color"
	"math"

	"fyne.io/fyne/v2"

	"lampblack/app/lesson"
	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
)

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
