package contents

import (
	"testing"

	"lampblack/app/desk"
	"lampblack/app/window/windowtest"
)

func TestWorkThatGaveWayIsListedAndTakenUp(t *testing.T) {
	b := windowtest.New(t, "soot")
	b.Fill()
	c := New(b.Session)
	b.Show(c, 232, 600)
	b.Do(desk.SetNote("half a thought, not kept"))
	b.Recall(1)
	if len(b.Asides()) != 1 {
		t.Fatalf("set aside: %v", b.Asides())
	}
	key := c.asideRows()[1].key
	if err := c.List().Click(key); err != nil {
		t.Fatal(err)
	}
	if err := c.List().Click("take up"); err != nil {
		t.Fatal(err)
	}
	if got := b.Bench().Note; got != "half a thought, not kept" {
		t.Errorf("taken up: the note is %q", got)
	}
	if len(b.Asides()) != 0 {
		t.Errorf("still set aside: %v", b.Asides())
	}
}

func TestWorkThatWasSetAsideCanBeThrownAway(t *testing.T) {
	b := windowtest.New(t, "soot")
	b.Fill()
	c := New(b.Session)
	b.Show(c, 232, 600)
	b.Do(desk.SetNote("half a thought"))
	b.Recall(1)
	for _, name := range []string{c.asideRows()[1].key, "throw away"} {
		if err := c.List().Click(name); err != nil {
			t.Fatal(err)
		}
	}
	if len(b.Asides()) != 0 {
		t.Errorf("still set aside: %v", b.Asides())
	}
}
