// Package lessons is the column in which a lesson is taken.
//
//	app/lesson -> list -> opening -> step ... step -> end
//	                                  |- Session.Teach: patch, memory, probes
//	                                  |- the control goes from A to B by itself
//	                                  '- answer: measured outside, follows the control
//
// It stands beside the sheet, in the place of the contents: what is turned is
// turned on the sheet and the rulers, as always. Of a lesson it keeps how far one
// has come (in the preferences), nothing else; what is on the bench the session
// knows. Held by tests: every lesson goes from its first step to its last by
// keyboard, every answer agrees with its theory, the work before it comes back.
package lessons

import (
	"fyne.io/fyne/v2"

	"lampblack/app/desk"
	"lampblack/app/lesson"
	"lampblack/app/window/leaf"
	"lampblack/app/window/look"
	"lampblack/patch"
)

// page is what the column shows.
type page int

const (
	ofList    page = iota // all lessons
	ofOpening             // what a lesson is about
	ofStep
	ofEnd
)

// Column is the widget.
type Column struct {
	leaf.Turning
	leaf.Ends
	session *desk.Session

	Close    func()                           // gives the place back to the contents
	Look     func(instrument string)          // shows an instrument; "" is none in particular
	Enlarge  func(instrument string)          // gives it the place of the sheet, or the place back
	Choose   func(at patch.Socket, turn bool) // shows a control's ruler, and lets the keyboard turn it
	Open     func()                           // asks for a lesson file and gives it to Read
	Keyboard func()                           // gives the keyboard to the column; may be nil

	lessons []*entry
	page    page
	at      *entry // whose page it is; nil on the list
	step    int    // from 0
	listed  bool   // own lessons of earlier times were looked for
	faults  []string
	faulty  string // the file that they are of

	rows  []row
	tops  []float32 // where the rows begin
	off   float32   // how far the rows are turned, in the toolkit's units
	most  float32   // how far they can be
	stood string    // the place that was last brought into view

	sweep sweep
	asks  question
	yours *leaf.Field
	found string // the bench and its settings as they were seen last
}

// entry is a lesson of the list.
type entry struct {
	lesson.Lesson
	key     string // unique; also in the preferences
	own     bool
	path    string // of an own one; "" where it is not known
	checked string // what came of checking an own one, "" before
}

// New returns the column; it is hidden.
func New(s *desk.Session) *Column {
	c := &Column{session: s, Close: func() {}, Look: func(string) {}, Enlarge: func(string) {}, Choose: func(patch.Socket, bool) {}}
	for _, l := range lesson.All() {
		c.lessons = append(c.lessons, &entry{Lesson: l, key: l.Name})
	}
	c.yours = leaf.NewField(false, "a number")
	c.yours.Enter = c.answered
	c.yours.Escape = c.takeKeyboard
	c.Write, c.Key = c.write, c.key
	c.Least = func() fyne.Size { return fyne.NewSize(look.Em()*14, look.Em()*20) }
	c.Extend(c)
	for _, t := range []desk.Topic{desk.Patch, desk.Memory, desk.Note, desk.Contents} {
		c.Until(s.Watch(t, c.changed))
	}
	for _, t := range []desk.Topic{desk.Probes, desk.Notices} {
		c.Until(s.Watch(t, c.redraw))
	}
	c.Until(look.Live.Watch(c.beat))
	c.Until(c.forget)
	c.Hide()
	return c
}

// Come shows the column where one was, and gives it the keyboard.
func (c *Column) Come() {
	c.Show()
	if !c.listed {
		c.listed = true
		c.listAgain()
	}
	if l, ok := c.session.Lesson(); ok && c.page == ofList {
		c.follow(l)
	}
	if c.page == ofList {
		c.Stand("lesson " + c.last())
	}
	c.Refresh()
	c.takeKeyboard()
}

// Leave hides the column. What is on the bench stays there.
func (c *Column) Leave() {
	c.forget()
	c.sweep.on = false
	c.Hide()
}

// takeKeyboard asks for the keyboard by Keyboard, if there is one: the toolkit
// (fyne v2.7.1) does not know the canvas of what was never drawn yet.
func (c *Column) takeKeyboard() {
	if c.Keyboard != nil {
		c.Keyboard()
		return
	}
	if can := fyne.CurrentApp().Driver().CanvasForObject(c); can != nil {
		can.Focus(c)
	}
}

func (c *Column) redraw() {
	if c.Visible() {
		c.Refresh()
	}
}

// changed sees that something else is on the bench, or that a control was
// turned: a page follows undo, an answer follows the control.
func (c *Column) changed() {
	if l, ok := c.session.Lesson(); ok && c.page == ofStep && c.at.key == l.Lesson && c.step != l.Step-1 {
		c.follow(l)
	}
	if now := c.bench(); now != c.found {
		c.found = now
		c.asks.stale(c)
	}
	c.redraw()
}

// bench is what an answer rests on.
func (c *Column) bench() string {
	if c.page != ofStep || !c.taught() {
		return ""
	}
	return string(c.session.Patch().JSON())
}

// key takes the keys that turn pages; the leaf walks from place to place.
func (c *Column) key(k fyne.KeyName) bool {
	switch k {
	case fyne.KeyPageDown:
		c.next()
	case fyne.KeyPageUp:
		c.back()
	case fyne.KeyEscape:
		c.out()
	default:
		return false
	}
	return true
}
