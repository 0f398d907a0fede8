package predict

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"
)

// tree grows a random patch of oscillators, rings, amplifiers, mixers and filters
// that stand still, and returns the socket of its end.
type tree struct {
	*desk
	t     *rapid.T
	count int
}

func (r *tree) name(kind string) string {
	r.count++
	return fmt.Sprintf("%s %d", kind, r.count)
}

func (r *tree) number(what string, least, most int) int {
	return rapid.IntRange(least, most).Draw(r.t, what)
}

func (r *tree) grow(depth int) string {
	kinds := []string{"oscillator", "ring", "amplifier", "mixer", "filter", "modulated"}
	kind := "oscillator"
	if depth > 0 {
		kind = rapid.SampledFrom(kinds).Draw(r.t, "kind")
	}
	name := r.name(kind)
	switch kind {
	case "oscillator":
		shape := rapid.SampledFrom([]string{"sine", "triangle", "saw", "pulse"}).Draw(r.t, "shape")
		r.put(name, kind, "frequency", fmt.Sprintf("%d Hz", r.number("frequency", 300, 5000)), "shape", shape,
			"width", fmt.Sprintf("%d %%", r.number("width", 5, 95)), "phase", fmt.Sprintf("%d deg", r.number("phase", -180, 180)))
	case "modulated":
		name = r.name("oscillator")
		r.put(name, "oscillator", "frequency", fmt.Sprintf("%d Hz", r.number("frequency", 300, 5000)))
		r.cord(r.grow(0), name+"/phase", fmt.Sprintf("%d deg", r.number("depth", 1, 120)))
	case "ring":
		r.put(name, kind, "leak", fmt.Sprintf("%d %%", r.number("leak", 0, 200)))
		r.cord(r.grow(depth-1), name+"/carrier", "")
		r.cord(r.grow(depth-1), name+"/signal", "")
	case "amplifier":
		r.put(name, kind, "level", fmt.Sprintf("%d dB", r.number("level", -20, 6)), "depth", fmt.Sprintf("%d %%", r.number("depth", 0, 100)))
		r.cord(r.grow(depth-1), name+"/in", "")
		if rapid.Bool().Draw(r.t, "modulated") {
			r.cord(r.grow(0), name+"/modulation", "")
		}
	case "mixer":
		r.put(name, kind, "level 1", fmt.Sprintf("%d dB", r.number("level 1", -20, 0)), "level 2", fmt.Sprintf("%d dB", r.number("level 2", -20, 0)))
		r.cord(r.grow(depth-1), name+"/1", "")
		r.cord(r.grow(depth-1), name+"/2", "")
	case "filter":
		out := rapid.SampledFrom([]string{"low", "band", "high", "notch", "bell"}).Draw(r.t, "out")
		r.put(name, kind, "cutoff", fmt.Sprintf("%d Hz", r.number("cutoff", 200, 8000)), "width", fmt.Sprintf("Q 0.%d", r.number("Q", 3, 9)), "boost", fmt.Sprintf("%d dB", r.number("boost", -12, 12)))
		r.cord(r.grow(depth-1), name+"/in", "")
		return name + "/" + out
	}
	return name + "/out"
}

// Whatever is joined, a prediction is kept: every line within what is claimed.
func TestRandomPatchesSoundAsPredicted(t *testing.T) {
	lines := 0
	rapid.Check(t, func(t *rapid.T) {
		r := &tree{desk: &desk{t, build()}, t: t}
		r.put("quiet", "mixer", "level 1", "-40 dB") // a sum may pass what an output gives at most
		r.cord(r.grow(2), "quiet/1", "")
		r.hear("quiet/out")
		w := newWalk(*r.p, usual)
		if s := w.output(heard); len(s.why) > 0 || len(s.lines) > 3000 {
			t.Skip(s.why)
		}
		o := compare(t, *r.p, usual, 0.5, 0.25, 18000)
		lines += o.lines
		if o.worst > o.within {
			t.Fatalf("%s", o)
		}
	})
	t.Logf("%d lines were held against the sound", lines)
	if lines < 1000 {
		t.Errorf("only %d lines", lines)
	}
}
