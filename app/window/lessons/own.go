package lessons

import (
	"context"
	"strings"

	"lampblack/app/lesson"
	"lampblack/patch"
)

// IsLesson tells whether a file means to be a lesson.
func IsLesson(file []byte) bool {
	return strings.Contains(string(file[:min(len(file), 4096)]), `"lampblack lesson"`)
}

// Read opens a lesson file and shows what it is about; of a file that is none it
// tells every fault with its line. A file that is read again takes the place of
// what it was.
func (c *Column) Read(file []byte, name string) {
	c.Show()
	c.faults, c.faulty = nil, ""
	l, err := lesson.Load(file)
	if err != nil {
		c.faulty = name
		for _, f := range patch.Faults(err) {
			c.faults = append(c.faults, f.Error())
		}
		c.at = nil
		c.show(ofList, "put away")
		c.takeKeyboard()
		return
	}
	e := &entry{Lesson: l, key: "file " + name, own: true, checked: checking}
	at := len(c.lessons)
	for i, old := range c.lessons {
		if old.key == e.key {
			at = i
		}
	}
	if at == len(c.lessons) {
		c.lessons = append(c.lessons, e)
	}
	c.lessons[at] = e
	c.open(e)
	c.takeKeyboard()
	c.check(e)
}

// What is said of a lesson that nobody has checked yet, and of one that holds.
const (
	checking = "It is being checked: how loud it is, and whether its answers agree with its theory …"
	holds    = "Checked: nothing is louder than −6 dBFS, and every answer agrees with its theory."
)

// check renders a lesson of a person's own from end to end, outside, and tells
// what does not hold.
func (c *Column) check(e *entry) {
	ctx, cancel := context.WithCancel(context.Background())
	c.Until(cancel)
	c.session.Elsewhere(func() func() {
		_, err := lesson.Check(ctx, e.Lesson)
		return func() {
			e.checked = holds
			if err != nil {
				e.checked = "Keep it low, and doubt its answers. " + strings.Join(strings.Split(err.Error(), "\n"), " · ")
			}
			c.redraw()
		}
	})
}

func (c *Column) putAway() {
	c.faults, c.faulty = nil, ""
	c.Stand("lesson " + c.last())
	c.Refresh()
}
