package lessons

import (
	"fmt"

	"fyne.io/fyne/v2"

	"lampblack/app/desk"
	"lampblack/patch"
)

// lastKey is where the lesson that was opened last is kept in the preferences.
const lastKey = "lesson"

func preferences() fyne.Preferences { return fyne.CurrentApp().Preferences() }

func stepKey(e *entry) string { return "lesson step: " + e.key }

// reached returns how far one has come in a lesson: 0 nowhere, the number of the
// step, or one more than there are when it was taken to its end.
func reached(e *entry) int {
	return min(max(preferences().Int(stepKey(e)), 0), len(e.Steps)+1)
}

func (e *entry) remember(step int) {
	preferences().SetInt(stepKey(e), step)
	preferences().SetString(lastKey, e.key)
}

// show shows another page, from its top.
func (c *Column) show(to page, place string) {
	c.forget()
	c.sweep.on = false
	c.page, c.off, c.stood = to, 0, ""
	c.Stand(place)
	c.Refresh()
}

// list shows all lessons.
func (c *Column) list() {
	c.at = nil
	c.Look("")
	c.show(ofList, "lesson "+c.last())
}

// last is the lesson that was opened last, or the first one.
func (c *Column) last() string {
	last := preferences().String(lastKey)
	for _, e := range c.lessons {
		if e.key == last {
			return last
		}
	}
	return c.lessons[0].key
}

// open shows what a lesson is about. The bench is as it was.
func (c *Column) open(e *entry) {
	c.at = e
	c.check(e)
	preferences().SetString(lastKey, e.key)
	c.Look("")
	place := "begin"
	if n := reached(e); n > 1 && n <= len(e.Steps) {
		place = "go on"
	}
	c.show(ofOpening, place)
}

// take puts a step, from 0, on the bench and shows its page.
func (c *Column) take(step int) {
	if !c.teach(step) {
		return
	}
	c.step = step
	c.at.remember(step + 1)
	c.yours.SetText("")
	c.show(ofStep, "answer")
	c.found = c.bench()
}

// teach puts a step on the bench, places the probes, shows the ruler of the
// control and the instrument.
func (c *Column) teach(step int) bool {
	e, s := c.at, c.at.Steps[step]
	if !c.session.Teach(desk.LessonStep{
		Lesson: e.key, Title: e.Title, Step: step + 1,
		Patch: e.At(step, 0), Memory: e.Memory, Moves: s.Move.Control,
	}) {
		return false
	}
	c.probe(step)
	c.session.Select(desk.Selection{Modules: []string{s.Move.Control.Module}, Cord: -1, Note: -1})
	c.Choose(s.Move.Control, false)
	c.Look(s.Watch.Instrument)
	return true
}

// probe puts the probes where a step wants them.
func (c *Column) probe(step int) {
	w := c.at.Steps[step].Watch
	c.session.SetProbe(desk.ProbeA, w.A)
	c.session.SetProbe(desk.ProbeB, w.B)
}

// probed tells whether the probes are where the step wants them.
func (c *Column) probed() bool {
	w := c.at.Steps[c.step].Watch
	return c.session.Probe(desk.ProbeA) == w.A && c.session.Probe(desk.ProbeB) == w.B
}

// taught tells whether the bench came from the step that is shown.
func (c *Column) taught() bool {
	l, ok := c.session.Lesson()
	return ok && c.at != nil && l.Lesson == c.at.key && l.Step == c.step+1
}

// follow shows the page of the step that is on the bench.
func (c *Column) follow(l desk.LessonStep) {
	for _, e := range c.lessons {
		if e.key == l.Lesson && l.Step >= 1 && l.Step <= len(e.Steps) {
			c.at, c.step = e, l.Step-1
			c.show(ofStep, "answer")
			c.found = c.bench()
		}
	}
}

// next turns to the page that follows.
func (c *Column) next() {
	switch c.page {
	case ofOpening:
		c.take(0)
	case ofStep:
		if c.step+1 < len(c.at.Steps) {
			c.take(c.step + 1)
			return
		}
		c.at.remember(len(c.at.Steps) + 1)
		c.Look("")
		place := "next lesson"
		if c.following() == nil {
			place = "list"
		}
		c.show(ofEnd, place)
	case ofEnd:
		if e := c.following(); e != nil {
			c.open(e)
		}
	}
}

// back turns to the page before.
func (c *Column) back() {
	switch {
	case c.page == ofOpening:
		c.list()
	case c.page == ofStep && c.step == 0:
		c.open(c.at)
	case c.page == ofStep:
		c.take(c.step - 1)
	case c.page == ofEnd:
		c.take(len(c.at.Steps) - 1)
	}
}

// out goes to the list, and from there back to the contents.
func (c *Column) out() {
	if c.page == ofList {
		c.Close()
		return
	}
	c.list()
}

// following returns the lesson after the one that is shown, nil if it is the
// last.
func (c *Column) following() *entry {
	for i, e := range c.lessons {
		if e == c.at && i+1 < len(c.lessons) {
			return c.lessons[i+1]
		}
	}
	return nil
}

// reset puts the step on the bench again as the lesson sets it.
func (c *Column) reset() {
	c.sweep.on = false
	c.teach(c.step)
}

// putBack puts the work back that was on the bench before the lesson.
func (c *Column) putBack() {
	c.session.EndLesson()
	c.list()
}

// progress says how far one has come in a lesson.
func progress(e *entry) string {
	n, of := reached(e), len(e.Steps)
	switch {
	case n > of:
		return "done"
	case n > 0:
		return fmt.Sprintf("at %d of %d", n, of)
	case of == 1:
		return "1 step"
	}
	return fmt.Sprintf("%d steps", of)
}

// setting returns where a control of the bench stands; ok is false if the bench
// has none of that name.
func (c *Column) setting(at patch.Socket) (s patch.Setting, ok bool) {
	k, m := c.session.Kind(at.Module), c.session.Patch().Module(at.Module)
	if k == nil || m == nil || k.Control(at.Name) == nil {
		return patch.Setting{}, false
	}
	if s, ok = m.Settings[at.Name]; ok {
		return s, true
	}
	return k.Control(at.Name).Default(), true
}
