package command

import (
	"fmt"
	"strconv"
	"strings"

	"lampblack/notebook"
)

// line is one line of the notebook's contents page.
type line struct {
	job  notebook.Job
	cue  notebook.Cue
	take notebook.Heading
}

// name returns how people name the take: cue and number ("1M4/3").
func (l line) name() string { return l.cue.Number + "/" + strconv.Itoa(l.take.Number) }

// key returns the name that no other take of the notebook has ("t12").
func (l line) key() string { return "t" + strconv.FormatInt(int64(l.take.ID), 10) }

// contents is the contents page of a whole notebook, in its order.
type contents struct {
	cues  []cueLine // also those without a take
	lines []line
}

type cueLine struct {
	job notebook.Job
	cue notebook.Cue
}

func readContents(b *notebook.Book) (contents, error) {
	var c contents
	jobs, err := b.Jobs()
	if err != nil {
		return c, err
	}
	for _, j := range jobs {
		cues, err := b.Cues(j.ID)
		if err != nil {
			return c, err
		}
		for _, q := range cues {
			c.cues = append(c.cues, cueLine{j, q})
			takes, err := b.Takes(q.ID)
			if err != nil {
				return c, err
			}
			for _, h := range takes {
				c.lines = append(c.lines, line{j, q, h})
			}
		}
	}
	return c, nil
}

// byID returns the line of a take.
func (c contents) byID(id notebook.TakeID) (line, bool) {
	for _, l := range c.lines {
		if l.take.ID == id {
			return l, true
		}
	}
	return line{}, false
}

const takeNames = "a take is named by its cue and number (1M4/3) or by its key (t12); lampblack take list shows both"

// find returns the take of that name.
func (c contents) find(name string) (line, error) {
	var found []line
	for _, l := range c.lines {
		if strings.EqualFold(l.key(), name) || strings.EqualFold(l.name(), name) {
			found = append(found, l)
		}
	}
	switch len(found) {
	case 0:
		return line{}, fmt.Errorf("there is no take %q in the notebook; %s", name, takeNames)
	case 1:
		return found[0], nil
	}
	var keys []string
	for _, l := range found {
		keys = append(keys, fmt.Sprintf("%s in %q", l.key(), l.job.Name))
	}
	return line{}, fmt.Errorf("%q names %d takes: %s; use the key", name, len(found), strings.Join(keys, ", "))
}

// findAll returns the takes of these names, in that order.
func (c contents) findAll(names []string) ([]line, error) {
	var lines []line
	for _, n := range names {
		l, err := c.find(n)
		if err != nil {
			return nil, err
		}
		lines = append(lines, l)
	}
	return lines, nil
}
