package sheet

import (
	"testing"

	"pgregory.net/rapid"

	"lampblack/patch"
)

func TestTracesLieOnNothing(t *testing.T) {
	for _, p := range []patch.Patch{moth(), *reed(), *crowd(40)} {
		l := layOut(&p, kinds, "", plain, nil)
		for i, c := range l.cords {
			if c.trace.empty() {
				t.Errorf("%v has no trace", c.cord)
				continue
			}
			if !l.free(c.trace) {
				t.Errorf("the trace of %v lies on a block", c.cord)
			}
			for j, other := range l.cords {
				if i != j && other.trace.meets(c.trace) {
					t.Errorf("the traces of %v and %v lie on each other", c.cord, other.cord)
				}
			}
		}
	}
}

func TestADepthIsNotStruckOut(t *testing.T) {
	p := moth()
	l := layOut(&p, kinds, "", plain, nil)
	for _, c := range l.cords {
		if c.depth == "" {
			continue
		}
		written := Box{c.label.X, c.label.Y - labelHeight + 2, c.label.X + plain.measure(labelLetters, c.depth), c.label.Y - 2}
		if !l.free(written) {
			t.Errorf("%s lies on a block", c.depth)
		}
		for _, other := range l.cords {
			for i := 1; i < len(other.way); i++ {
				if span(other.way[i-1], other.way[i]).meets(written) {
					t.Errorf("%s is struck out by %v", c.depth, other.cord)
				}
			}
		}
	}
}

func TestATraceLiesOnItsCord(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := moth()
		for i := range p.Modules {
			p.Modules[i].At = snapped(at(rapid.Float64Range(0, 900).Draw(t, "x"), rapid.Float64Range(0, 600).Draw(t, "y")))
		}
		l := layOut(&p, kinds, "", plain, nil)
		for _, c := range l.cords {
			if c.trace.empty() {
				continue
			}
			on := false
			for i := 1; i < len(c.way); i++ {
				on = on || span(c.way[i-1], c.way[i]).grown(0.01).holds(c.trace.centre())
			}
			if !on {
				t.Fatalf("the trace of %v at %v is beside its way %v", c.cord, c.trace, c.way)
			}
		}
	})
}
