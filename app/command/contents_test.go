package command

import (
	"strings"
	"testing"

	"lampblack/notebook"
)

func page1() contents {
	film, play := notebook.Job{ID: 1, Name: "The Glasshouse"}, notebook.Job{ID: 2, Name: "Tidewater"}
	moths, vent, sea := notebook.Cue{ID: 1, Job: 1, Number: "1M4"}, notebook.Cue{ID: 2, Job: 1, Number: "1M5"}, notebook.Cue{ID: 3, Job: 2, Number: "1M4"}
	at := func(j notebook.Job, c notebook.Cue, id notebook.TakeID, n int) line {
		return line{j, c, notebook.Heading{ID: id, Cue: c.ID, Number: n}}
	}
	return contents{
		cues:  []cueLine{{film, moths}, {film, vent}, {play, sea}},
		lines: []line{at(film, moths, 1, 1), at(film, moths, 2, 2), at(film, vent, 3, 1), at(play, sea, 12, 1)},
	}
}

func TestATakeIsFoundByItsNames(t *testing.T) {
	for _, c := range []struct {
		name string
		want notebook.TakeID
		says string // in the error, if there is one
	}{
		{"1M4/2", 2, ""},
		{"1m5/1", 3, ""},
		{"t12", 12, ""},
		{"1M4/1", 0, `t1 in "The Glasshouse", t12 in "Tidewater"`},
		{"1M4/9", 0, "there is no take"},
		{"t2x", 0, "there is no take"},
		{"", 0, "there is no take"},
	} {
		l, err := page1().find(c.name)
		if l.take.ID != c.want || (err == nil) != (c.says == "") {
			t.Errorf("find(%q) is take %d, %v; want take %d", c.name, l.take.ID, err, c.want)
		}
		if err != nil && !strings.Contains(err.Error(), c.says) {
			t.Errorf("find(%q) says %q, want %q in it", c.name, err, c.says)
		}
	}
}

func TestEveryTakeIsFoundByItsKey(t *testing.T) {
	for _, l := range page1().lines {
		if got, err := page1().find(l.key()); err != nil || got.take.ID != l.take.ID {
			t.Errorf("find(%q) is take %d, %v", l.key(), got.take.ID, err)
		}
	}
}
