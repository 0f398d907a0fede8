package sheet

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"lampblack/patch"
	"lampblack/patch/kind"
)

// plain sets type as if every letter were 7 wide.
var plain = typeset{
	measure: func(_ lettering, s string) float64 { return 7 * float64(len([]rune(s))) },
	shown:   func(s string) string { return s },
}

func kinds(m *patch.Module) *patch.Kind {
	k, _ := kind.Catalogue.Kind(m.Kind)
	return k
}

func at(x, y float64) Point { return Point{X: x, Y: y} }

// reed is the patch of most tests: noise through a swept filter.
func reed() *patch.Patch {
	return &patch.Patch{
		Modules: []patch.Module{
			{Name: "dust", Kind: "noise", At: at(24, 48)},
			{Name: "reed", Kind: "filter", At: at(288, 48), Settings: map[string]patch.Setting{"width": {Value: 45, Unit: "Hz"}}},
			{Name: "wings", Kind: "amplifier", At: at(600, 48)},
			{Name: "sway", Kind: "slow", At: at(24, 264)},
			{Name: "out", Kind: "output", At: at(888, 48)},
		},
		Cords: []patch.Cord{
			{From: patch.Socket{Module: "dust", Name: "out"}, To: patch.Socket{Module: "reed", Name: "in"}},
			{From: patch.Socket{Module: "reed", Name: "band"}, To: patch.Socket{Module: "wings", Name: "in"}},
			{From: patch.Socket{Module: "wings", Name: "out"}, To: patch.Socket{Module: "out", Name: "left"}},
			{From: patch.Socket{Module: "sway", Name: "out"}, To: patch.Socket{Module: "reed", Name: "cutoff"}, Depth: patch.Setting{Value: 0.8, Unit: "oct", Text: "+0.8 oct"}},
		},
	}
}

func crossings(l *layout, way []Point) (n int) {
	for i := 1; i < len(way); i++ {
		for _, b := range l.blocks {
			if span(way[i-1], way[i]).meets(b.box.grown(-1)) {
				n++
			}
		}
	}
	return n
}

func TestCordsRunAtRightAnglesAndAroundBlocks(t *testing.T) {
	l := layOut(reed(), kinds, "", plain, nil)
	for _, c := range l.cords {
		if c.way == nil {
			t.Fatalf("%v was not laid", c.cord)
		}
		for i := 1; i < len(c.way); i++ {
			if c.way[i-1].X != c.way[i].X && c.way[i-1].Y != c.way[i].Y {
				t.Errorf("%v runs aslant from %v to %v", c.cord, c.way[i-1], c.way[i])
			}
		}
		if n := crossings(l, c.way); n > 0 {
			t.Errorf("%v runs through %d blocks: %v", c.cord, n, c.way)
		}
	}
}

func TestACordBackwardsGoesRound(t *testing.T) {
	p := reed()
	p.Cords = append(p.Cords, patch.Cord{From: patch.Socket{Module: "wings", Name: "out"}, To: patch.Socket{Module: "dust", Name: "seed"}})
	p.Cords[len(p.Cords)-1].To = patch.Socket{Module: "sway", Name: "restart"}
	l := layOut(p, kinds, "", plain, nil)
	c := l.cords[len(l.cords)-1]
	if n := crossings(l, c.way); n > 0 || len(c.way) < 4 {
		t.Errorf("the way back runs through %d blocks: %v", n, c.way)
	}
}

func TestTwoCordsDoNotLieOnEachOther(t *testing.T) {
	p := &patch.Patch{Modules: []patch.Module{
		{Name: "a", Kind: "oscillator", At: at(0, 0)}, {Name: "b", Kind: "oscillator", At: at(0, 240)},
		{Name: "m", Kind: "mixer", At: at(360, 120)},
	}, Cords: []patch.Cord{
		{From: patch.Socket{Module: "a", Name: "out"}, To: patch.Socket{Module: "m", Name: "2"}},
		{From: patch.Socket{Module: "b", Name: "out"}, To: patch.Socket{Module: "m", Name: "1"}},
	}}
	l := layOut(p, kinds, "", plain, nil)
	for i := 1; i < len(l.cords[0].way); i++ {
		for j := 1; j < len(l.cords[1].way); j++ {
			a := segment{a: l.cords[0].way[i-1], b: l.cords[0].way[i]}
			b := segment{a: l.cords[1].way[j-1], b: l.cords[1].way[j]}
			if cost := conflict(a, b); cost > costCross {
				t.Errorf("%v and %v lie on each other", a, b)
			}
		}
	}
}

func TestSocketsAreHitWhereTheyAreDrawn(t *testing.T) {
	l := layOut(reed(), kinds, "", plain, nil)
	reed := l.block("reed")
	for _, c := range []struct {
		socket string
		output bool
		want   what
	}{{"in", false, onInput}, {"band", true, onOutput}, {"notch", true, onOutput}, {"cutoff", false, onControl}, {"width", false, onControl}} {
		p, ok := reed.end(c.socket, c.output)
		if !ok {
			t.Fatalf("reed has no %s", c.socket)
		}
		if h := l.at(p, 1); h.what != c.want || h.socket.Name != c.socket {
			t.Errorf("at %s lies %+v", c.socket, h)
		}
	}
	if h := l.at(reed.box.centre(), 1); h.what != onBlock || h.socket.Module != "reed" {
		t.Errorf("in the middle of reed lies %+v", h)
	}
	if h := l.at(at(20, 20), 1); h.what != ground {
		t.Errorf("on empty ground lies %+v", h)
	}
	way := l.cords[0].way
	if h := l.at(span(way[0], way[1]).centre(), 1); h.what != onCord || h.cord != 0 {
		t.Errorf("on the first cord lies %+v", h)
	}
}

func TestEveryControlWithACordIsWritten(t *testing.T) {
	l := layOut(reed(), kinds, "", plain, nil)
	for _, r := range l.block("reed").rows {
		if r.control == "cutoff" {
			if !r.joined || r.set {
				t.Errorf("cutoff is %+v", r)
			}
			return
		}
	}
	t.Error("cutoff, into which a cord goes, is not written in the block")
}

func TestArrowsFindTheNeighbour(t *testing.T) {
	l := layOut(reed(), kinds, "", plain, nil)
	for _, c := range []struct {
		from string
		d    direction
		want string
	}{
		{"dust", rightward, "reed"}, {"reed", leftward, "dust"}, {"dust", downward, "sway"}, {"sway", upward, "dust"},
		{"out", rightward, ""}, {"", rightward, "dust"}, {"gone", rightward, "dust"},
	} {
		if got := l.next(c.from, c.d); got != c.want {
			t.Errorf("from %q towards %v lies %q, want %q", c.from, c.d, got, c.want)
		}
	}
}

func TestANewModuleCoversNoOther(t *testing.T) {
	l := layOut(reed(), kinds, "", plain, nil)
	p := l.freePlace(at(300, 60))
	if !l.free(Box{p.X, p.Y, p.X + leastWidth, p.Y + 4*rule}) {
		t.Errorf("%v is taken", p)
	}
	if s := snapped(p); s != p {
		t.Errorf("%v is not on the grid", p)
	}
}

func TestAnyPlaceForModulesGivesWholeCords(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := reed()
		for i := range p.Modules {
			p.Modules[i].At = snapped(at(rapid.Float64Range(0, 900).Draw(t, "x"), rapid.Float64Range(0, 600).Draw(t, "y")))
		}
		l := layOut(p, kinds, "", plain, nil)
		for _, c := range l.cords {
			from, _ := l.block(c.cord.From.Module).end(c.cord.From.Name, true)
			to, _ := l.block(c.cord.To.Module).end(c.cord.To.Name, false)
			if len(c.way) < 2 || c.way[0] != from || c.way[len(c.way)-1] != to {
				t.Fatalf("%v runs %v", c.cord, c.way)
			}
		}
	})
}

// crowd is a patch of n modules in rows of 25, each joined to the next.
func crowd(n int) *patch.Patch {
	p := &patch.Patch{}
	for i := range n {
		kind := []string{"slow", "filter", "amplifier", "mixer"}[i%4]
		p.Modules = append(p.Modules, patch.Module{Name: fmt.Sprint("m", i), Kind: kind, At: at(float64(i%25)*264, float64(i/25)*288)})
		if i == 0 {
			continue
		}
		out, in := kinds(&p.Modules[i-1]).Outputs[0].Name, kinds(&p.Modules[i])
		c := patch.Cord{From: patch.Socket{Module: fmt.Sprint("m", i-1), Name: out}}
		if i%4 == 0 {
			c.To, c.Depth = patch.Socket{Module: fmt.Sprint("m", i), Name: "rate"}, patch.Setting{Value: 1, Unit: "oct"}
		} else {
			c.To = patch.Socket{Module: fmt.Sprint("m", i), Name: in.Inputs[0].Name}
		}
		p.Cords = append(p.Cords, c)
	}
	return p
}

func BenchmarkLayOut1000(b *testing.B) {
	p := crowd(1000)
	for b.Loop() {
		layOut(p, kinds, "", plain, nil)
	}
}

func BenchmarkDragIn1000(b *testing.B) {
	p := crowd(1000)
	l := layOut(p, kinds, "", plain, nil)
	for b.Loop() {
		p.Modules[500].At.X += gridX
		l = layOut(p, kinds, "", plain, l)
	}
}

func TestCordsKeepTheirWayWhenSomethingElseMoves(t *testing.T) {
	p := crowd(100)
	before := layOut(p, kinds, "", plain, nil)
	p.Modules[60].At.Y += 4 * rule
	after := layOut(p, kinds, "", plain, before)
	if &after.cords[2].way[0] != &before.cords[2].way[0] {
		t.Error("a cord far from what moved was laid again")
	}
	for _, c := range after.cords {
		if n := crossings(after, c.way); n > 0 && crossings(layOut(p, kinds, "", plain, nil), c.way) < n {
			t.Errorf("%v runs through %d blocks", c.cord, n)
		}
		to := after.block(c.cord.To.Module)
		if end, _ := to.end(c.cord.To.Name, false); c.way[len(c.way)-1] != end {
			t.Errorf("%v ends at %v, its socket is at %v", c.cord, c.way[len(c.way)-1], end)
		}
	}
}
