package lessons

import (
	"context"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
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
// what it was. Where path is known it is listed the next time as well.
func (c *Column) Read(file []byte, name, path string) {
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
	if path != "" {
		setFiles(append(without(files(), path), path))
	}
	c.open(c.enter(l, name, path))
	c.takeKeyboard()
}

// enter puts an own lesson on the list, or in the place of what it was.
func (c *Column) enter(l lesson.Lesson, name, path string) *entry {
	e := &entry{Lesson: l, key: "file " + name, own: true, path: path}
	if path != "" {
		e.key = "file " + path
	}
	for i, old := range c.lessons {
		if old.key == e.key {
			c.lessons[i] = e
			return e
		}
	}
	c.lessons = append(c.lessons, e)
	return e
}

// filesKey is where the paths of own lessons are kept in the preferences, and
// maxFiles how many of them.
const (
	filesKey = "lesson files"
	maxFiles = 20
)

func files() []string { return preferences().StringList(filesKey) }

func setFiles(paths []string) {
	preferences().SetStringList(filesKey, paths[max(len(paths)-maxFiles, 0):])
}

func without(paths []string, path string) []string {
	return slices.DeleteFunc(slices.Clone(paths), func(p string) bool { return p == path })
}

// listAgain reads the own lessons of earlier times, outside. One that is gone
// is forgotten; one that has become faulty is left out until it is opened again.
func (c *Column) listAgain() {
	for _, path := range files() {
		c.session.Elsewhere(func() func() {
			l, err := readFile(path)
			return func() {
				switch {
				case errors.Is(err, fs.ErrNotExist):
					setFiles(without(files(), path))
				case err == nil && !slices.ContainsFunc(c.lessons, func(e *entry) bool { return e.path == path }):
					c.enter(l, filepath.Base(path), path)
					c.redraw()
				}
			}
		})
	}
}

func readFile(path string) (lesson.Lesson, error) {
	file, err := os.Open(path)
	if err != nil {
		return lesson.Lesson{}, err
	}
	defer file.Close()
	data, err := io.ReadAll(io.LimitReader(file, lesson.MaxFile+1))
	if err != nil {
		return lesson.Lesson{}, err
	}
	return lesson.Load(data)
}

// takeOff takes an own lesson off the list. The file stays where it is.
func (c *Column) takeOff() {
	gone := c.at
	c.lessons = slices.DeleteFunc(c.lessons, func(e *entry) bool { return e == gone })
	setFiles(without(files(), gone.path))
	c.list()
}

// What is said of a lesson that is being checked, and of one that holds.
const (
	checking = "It is being checked: how loud it is, and whether its answers agree with its theory …"
	holds    = "Checked: nothing is louder than −6 dBFS, and every answer agrees with its theory."
)

// check renders a lesson of a person's own from end to end, outside, and tells
// what does not hold.
func (c *Column) check(e *entry) {
	if !e.own || e.checked != "" {
		return
	}
	e.checked = checking
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
