package engine

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"lampblack/patch"
)

// nonZero lists where x is not 0, and what it is there.
func nonZero(x []float64) (list []string) {
	for i, v := range x {
		if v != 0 {
			list = append(list, fmt.Sprintf("%d:%g", i, v))
		}
	}
	return list
}

func TestCordsAreLateOnlyWhereALoopCloses(t *testing.T) {
	tests := []struct {
		name string
		p    patch.Patch
		want []string
		why  string
	}{
		{
			"a chain is not late, whatever the order of its modules",
			build([]string{"out", "output", "b", "double", "a", "double", "i", "impulse"},
				cord{from: "i", out: "out", to: "a", in: "in"}, cord{from: "a", out: "out", to: "b", in: "in"}, cord{from: "b", out: "out", to: "out", in: "left"}),
			[]string{"0:4"}, "no loop, no delay",
		},
		{
			"a delay of one sample in a chain",
			build([]string{"d", "delay", "out", "output", "i", "impulse"},
				cord{from: "i", out: "out", to: "d", in: "in"}, cord{from: "d", out: "out", to: "out", in: "left"}),
			[]string{"1:1"}, "its own sample only",
		},
		{
			"a module joined to itself hears itself one sample late",
			build([]string{"s", "sum", "out", "output", "i", "impulse"},
				cord{from: "i", out: "out", to: "s", in: "a"}, cord{from: "s", out: "out", to: "s", in: "b"}, cord{from: "s", out: "out", to: "out", in: "left"}),
			[]string{"0:1", "1:1", "2:1", "3:1", "4:1", "5:1", "6:1", "7:1"}, "y[n] = x[n] + y[n-1]: an integrator",
		},
		{
			"a ring of a sum and two delays comes round after three samples",
			build([]string{"d2", "delay", "d1", "delay", "s", "sum", "out", "output", "i", "impulse"},
				cord{from: "i", out: "out", to: "s", in: "a"}, cord{from: "s", out: "out", to: "d1", in: "in"}, cord{from: "d1", out: "out", to: "d2", in: "in"},
				cord{from: "d2", out: "out", to: "s", in: "b"}, cord{from: "s", out: "out", to: "out", in: "left"}),
			[]string{"0:1", "3:1", "6:1"}, "two delays of one sample, and the one sample by which the loop is late",
		},
		{
			"a ring that doubles",
			build([]string{"x", "double", "s", "sum", "out", "output", "i", "impulse"},
				cord{from: "i", out: "out", to: "s", in: "a"}, cord{from: "s", out: "out", to: "x", in: "in"}, cord{from: "x", out: "out", to: "s", in: "b"},
				cord{from: "x", out: "out", to: "out", in: "left"}),
			[]string{"0:2", "1:4", "2:8", "3:8", "4:8", "5:8", "6:8", "7:8"}, "2^(n+1), then held at MaxOutput = 8",
		},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			if got := nonZero(heard(t, test.p, 8)); !slices.Equal(got, test.want) {
				t.Errorf("heard %v, want %v (%s)", got, test.want, test.why)
			}
			e := sounding(t, test.p)
			if got, _ := hear(e, 8, 1); !slices.Equal(nonZero(got), test.want) {
				t.Errorf("in blocks of one sample: %v", nonZero(got))
			}
		})
	}
}

// A loop that goes through a control is late by one sample too, and stays so
// across the ends of blocks.
func TestALoopThroughAControlIsOneSampleLateAcrossBlocks(t *testing.T) {
	p := build([]string{"v", "value", "out", "output", "i", "impulse"},
		cord{"i", "out", "v", "value", patch.Setting{Value: 1}},
		cord{"v", "out", "v", "value", patch.Setting{Value: 1}},
		cord{from: "v", out: "out", to: "out", in: "left"})
	for _, size := range []int{1, 7, 64, 300} {
		got, _ := hear(sounding(t, p), 300, size)
		for i, v := range got {
			if v != 1 {
				t.Fatalf("blocks of %d: sample %d is %g; an impulse that is held by its own feedback is 1", size, i, v)
			}
		}
	}
}

func TestTheOrderOfModulesIsTheSameInEveryRun(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 20 {
		var p patch.Patch
		for i := range 30 {
			p.Modules = append(p.Modules, patch.Module{Name: fmt.Sprint(i), Kind: "sum"})
		}
		for range 40 {
			c := patch.Cord{
				From: patch.Socket{Module: fmt.Sprint(r.IntN(30)), Name: "out"},
				To:   patch.Socket{Module: fmt.Sprint(r.IntN(30)), Name: "ab"[r.IntN(2):][:1]},
			}
			if !slices.Contains(p.Cords, c) {
				p.Cords = append(p.Cords, c)
			}
		}
		first := running(compile(t, p))
		for range 10 {
			r.Shuffle(len(p.Cords), func(i, j int) { p.Cords[i], p.Cords[j] = p.Cords[j], p.Cords[i] })
			if again := running(compile(t, p)); !slices.Equal(first, again) {
				t.Fatalf("first %v, then, joined in another order, %v", first, again)
			}
		}
	}
}

// running lists the modules in running order.
func running(g *Graph) (names []string) {
	for i := range g.nodes {
		names = append(names, g.nodes[i].name)
	}
	return names
}

func TestAPatchOf1000ModulesInOneLoopSounds(t *testing.T) {
	p := build([]string{"out", "output", "i", "impulse", "s", "sum"}, cord{from: "i", out: "out", to: "s", in: "a"}, cord{from: "s", out: "out", to: "out", in: "left"})
	before := "s"
	for i := range patch.MaxModules - len(p.Modules) {
		name := fmt.Sprint("d", i)
		p.Modules = append(p.Modules, patch.Module{Name: name, Kind: "delay"})
		p.Cords = append(p.Cords, patch.Cord{From: patch.Socket{Module: before, Name: "out"}, To: patch.Socket{Module: name, Name: "in"}})
		before = name
	}
	p.Cords = append(p.Cords, patch.Cord{From: patch.Socket{Module: before, Name: "out"}, To: patch.Socket{Module: "s", Name: "b"}})
	got := nonZero(heard(t, p, 2000))
	// 997 delays, and the sample by which the loop is late.
	if want := []string{"0:1", "998:1", "1996:1"}; !slices.Equal(got, want) {
		t.Errorf("heard %v, want %v", got, want)
	}
}

// A loop that dies away ends: no sample is so small that a processor would be
// slow on it.
func TestALoopThatDiesAwayEndsInSilence(t *testing.T) {
	p := build([]string{"s", "sum", "half", "level", "out", "output", "i", "impulse"},
		cord{from: "i", out: "out", to: "s", in: "a"}, cord{from: "s", out: "out", to: "half", in: "in"},
		cord{from: "half", out: "out", to: "s", in: "b"}, cord{from: "s", out: "out", to: "out", in: "left"})
	got := heard(t, setting(p, "half", "level", -6, "dB"), 300)
	// -6 dB a sample: -600 dB after 100.
	if got[99] == 0 || got[102] != 0 {
		t.Errorf("sample 99 is %g and 102 is %g; want something, and nothing", got[99], got[102])
	}
}
