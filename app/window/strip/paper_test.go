package strip

import (
	"math"
	"slices"
	"testing"

	"lampblack/patch/memory"
	"pgregory.net/rapid"
)

// anyMemory draws a memory with at least one note, notes in order.
func anyMemory(t *rapid.T) memory.Memory {
	m := memory.Memory{Length: rapid.Float64Range(0.1, 600).Draw(t, "length")}
	for range rapid.IntRange(1, 20).Draw(t, "notes") {
		at := rapid.Float64Range(0, m.Length).Draw(t, "at")
		m.Notes = append(m.Notes, memory.Note{
			At: at, For: rapid.Float64Range(0.01, 5).Draw(t, "for"),
			Pitch:    float64(rapid.IntRange(-48, 48).Draw(t, "semitone")) / 12,
			Velocity: 0.8, Rest: rapid.Bool().Draw(t, "rest"),
		})
	}
	slices.SortStableFunc(m.Notes, func(a, b memory.Note) int {
		if a.At < b.At {
			return -1
		}
		if a.At > b.At {
			return 1
		}
		return 0
	})
	return m
}

func TestEveryNoteLiesOnThePaper(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := anyMemory(t)
		p := lay(m, 30, 20, rapid.Float64Range(50, 3000).Draw(t, "width"), rapid.Float64Range(30, 800).Draw(t, "height"))
		for i, n := range m.Notes {
			x, _, w, _ := p.bar(n)
			y := p.y(n.Pitch)
			if x < p.left-1e-6 || x+w > p.left+p.width+2+1e-6 || y < p.top || y > p.top+p.height {
				t.Fatalf("note %d at (%g, %g) lies outside %+v", i, x, y, p)
			}
			if got := p.pitch(y); math.Abs(got-n.Pitch) > 1e-9 {
				t.Fatalf("row of %g octaves reads as %g", n.Pitch, got)
			}
			if got := p.time(p.x(n.At)); math.Abs(got-n.At) > 1e-9*p.seconds {
				t.Fatalf("%g s reads as %g s", n.At, got)
			}
		}
	})
}

func TestAPointFindsTheNoteUnderIt(t *testing.T) {
	m := memory.Memory{Length: 4, Notes: []memory.Note{
		{At: 0, For: 1, Pitch: 0}, {At: 2, For: 0.02, Pitch: 0.5},
	}}
	p := lay(m, 0, 0, 400, 140) // 100 units a second, 14 rows of 10
	for _, c := range []struct {
		name string
		x, y float64
		note int
		part Part
	}{
		{"the middle of the first", 50, p.y(0), 0, Body},
		{"its right edge", 98, p.y(0), 0, End},
		{"a little beyond the edge", 104, p.y(0), 0, End},
		{"a row above it", 50, p.y(1.0 / 12), -1, Nothing},
		{"a note of two units", 201, p.y(0.5), 1, Body},
		{"between them", 150, p.y(0), -1, Nothing},
	} {
		if note, part := p.find(m, c.x, c.y); note != c.note || part != c.part {
			t.Errorf("%s: found %d part %d, want %d part %d", c.name, note, part, c.note, c.part)
		}
	}
}

func TestTheGridIsA1A2OrA5(t *testing.T) {
	for _, c := range []struct{ seconds, width, apart, want float64 }{
		{8.2, 760, 70, 1}, {8.2, 300, 70, 2}, {60, 760, 70, 10}, {1, 760, 70, 0.1}, {600, 760, 70, 100}, {3.5, 760, 100, 0.5},
	} {
		p := paper{width: c.width, seconds: c.seconds}
		if got := p.grid(c.apart); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%g s on %g units, lines %g apart: step %g s, want %g s", c.seconds, c.width, c.apart, got, c.want)
		}
	}
}

func TestADragLosesNoNote(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := anyMemory(t)
		i := rapid.IntRange(0, len(m.Notes)-1).Draw(t, "note")
		pitch := float64(rapid.IntRange(-60, 60).Draw(t, "to")) / 12
		got, at := moved(m, i, rapid.Float64Range(-700, 700).Draw(t, "by"), pitch)
		if len(got.Notes) != len(m.Notes) || got.Notes[at].Pitch != pitch || got.Notes[at].For != m.Notes[i].For {
			t.Fatalf("note %d moved became %+v at %d", i, got.Notes, at)
		}
		if !slices.IsSortedFunc(got.Notes, func(a, b memory.Note) int {
			if a.At < b.At {
				return -1
			}
			if a.At > b.At {
				return 1
			}
			return 0
		}) {
			t.Fatalf("out of order: %+v", got.Notes)
		}
		if end := got.Notes[at].At + got.Notes[at].For; end > Pass(m)+1e-9 || got.Notes[at].At < 0 {
			t.Fatalf("moved out of the pass of %g s: %+v", Pass(m), got.Notes[at])
		}
		longer := lengthened(m, i, rapid.Float64Range(-700, 700).Draw(t, "longer"))
		if n := longer.Notes[i]; n.For <= 0 || n.At+n.For > Pass(m)+1e-9 && n.For > shortest {
			t.Fatalf("lengthened beyond the pass of %g s: %+v", Pass(m), n)
		}
	})
}
