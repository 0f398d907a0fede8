package lessons

import (
	"fmt"
	"strings"

	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
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
	c.gap(0.15)
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
	if e.own {
		c.gap(0.6)
		c.word(p, look.Quiet, "take off", "take it off the list", c.takeOff)
	}
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
