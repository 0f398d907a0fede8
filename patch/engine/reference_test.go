package engine

import (
	"fmt"
	"math"
	"os"
	"testing"

	"github.com/google/go-cmp/cmp"

	"lampblack/patch"
	"lampblack/patch/kind"
	"lampblack/patch/kind/rig"
)

// references are the patches that every speed is told for.
var references = []string{"hiss", "hiss-fixed", "brass", "bell"}

func reference(t testing.TB, name string) patch.Patch {
	t.Helper()
	file, err := os.ReadFile("../../assets/patches/" + name + ".json")
	if err != nil {
		t.Fatal(err)
	}
	p, err := patch.Load(file, kind.Catalogue)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(string(file), string(p.JSON())); d != "" {
		t.Errorf("%s.json is not in the form in which it would be written (-is +written):\n%s", name, d)
	}
	return p
}

func TestReferencePatchesSoundAndStayBelowFullScale(t *testing.T) {
	for _, name := range references {
		r := render(t, reference(t, name), noMemory, RenderOptions{Seconds: 4, Kinds: defaultKinds})
		square := 0.0
		for _, x := range r.Left {
			square += x * x
		}
		peak, rms := 20*math.Log10(r.Peak()), 10*math.Log10(square/float64(len(r.Left)))
		t.Logf("%s: peak %.1f dBFS, rms %.1f dBFS", name, peak, rms)
		if peak > -0.5 || peak < -12 || rms < -32 {
			t.Errorf("%s: peak %.1f dBFS, rms %.1f dBFS; want a peak of -12 to -0.5 and at least -32 rms", name, peak, rms)
		}
	}
}

// copies returns n copies of p in one patch, joined to the first one's output.
func copies(p patch.Patch, n int) patch.Patch {
	all := patch.Patch{Seed: p.Seed}
	rename := func(name string, i int) string {
		if i == 0 {
			return name
		}
		return fmt.Sprint(name, " ", i)
	}
	for i := range n {
		for _, m := range p.Modules {
			if i > 0 && m.Kind == OutputKind {
				continue
			}
			m.Name = rename(m.Name, i)
			all.Modules = append(all.Modules, m)
		}
		for _, c := range p.Cords {
			c.From.Module = rename(c.From.Module, i)
			if c.To.Module != "out" {
				c.To.Module = rename(c.To.Module, i)
			}
			all.Cords = append(all.Cords, c)
		}
	}
	return all
}

// BenchmarkReference tells what one sample of the reference patches costs, and
// of 16 of them side by side, as the loudspeaker asks for them: 512 at once.
func BenchmarkReference(b *testing.B) {
	for _, name := range references {
		for _, n := range []int{1, 16} {
			b.Run(fmt.Sprintf("%s/%d", name, n), func(b *testing.B) {
				benchmark(b, copies(reference(b, name), n))
			})
		}
	}
}

// benchmark returns the nanoseconds of a sample.
func benchmark(b *testing.B, p patch.Patch) float64 {
	g, err := Compile(p, Settings{Rate: testRate})
	if err != nil {
		b.Fatal(err)
	}
	e := New(testRate)
	e.Swap(g)
	e.NoteOn(0, 1)
	left, right := make([]float64, 512), make([]float64, 512)
	b.ReportAllocs()
	taken := rig.Taken(func() {
		for b.Loop() {
			e.Block(left, right)
		}
	})
	perSample := float64(taken.Nanoseconds()) / float64(b.N*len(left))
	b.ReportMetric(perSample, "ns/sample")
	b.ReportMetric(1e9/testRate/perSample, "x-realtime")
	return perSample
}

// BenchmarkModules tells how cost grows with the number of modules: a module's
// share of a sample, in a chain of filters, and in one loop of them.
func BenchmarkModules(b *testing.B) {
	for _, loop := range []bool{false, true} {
		for _, n := range []int{10, 100, 998} {
			name := map[bool]string{false: "chain", true: "loop"}[loop]
			b.Run(fmt.Sprintf("%s/%d", name, n), func(b *testing.B) {
				b.ReportMetric(benchmark(b, chain(n, loop))/float64(n), "ns/sample/module")
			})
		}
	}
}

// BenchmarkManyLoops holds ten loops of 98 filters against one of 980: the same
// work, but what one loop touches for a sample stays in the nearest caches, while
// 980 filters are too many for them. So it tells what of the cost of a large
// loop is waiting for memory.
func BenchmarkManyLoops(b *testing.B) {
	b.Run("1 of 980", func(b *testing.B) { b.ReportMetric(benchmark(b, chain(980, true))/980, "ns/sample/module") })
	b.Run("10 of 98", func(b *testing.B) {
		b.ReportMetric(benchmark(b, copies(chain(98, true), 10))/980, "ns/sample/module")
	})
}

// chain is noise through n filters, the last of which may feed the first.
func chain(n int, loop bool) patch.Patch {
	p := build([]string{"noise", "noise", "out", "output"})
	before := patch.Socket{Module: "noise", Name: "out"}
	for i := range n {
		name := fmt.Sprint("filter ", i)
		p.Modules = append(p.Modules, patch.Module{Name: name, Kind: "filter"})
		p.Cords = append(p.Cords, patch.Cord{From: before, To: patch.Socket{Module: name, Name: "in"}})
		before = patch.Socket{Module: name, Name: "low"}
	}
	p.Cords = append(p.Cords, patch.Cord{From: before, To: patch.Socket{Module: "out", Name: "left"}})
	if loop {
		p.Cords = append(p.Cords, patch.Cord{From: before, To: patch.Socket{Module: "filter 0", Name: "in"}})
	}
	return p
}

// BenchmarkTaps tells what a tap costs beside the patch it listens to.
func BenchmarkTaps(b *testing.B) {
	for _, n := range []int{0, 20} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			e := New(testRate)
			e.Swap(compileKind(b, chain(20, false)))
			for i := range n {
				e.Tap(fmt.Sprint("filter ", i), "low")
			}
			left, right := make([]float64, 512), make([]float64, 512)
			for b.Loop() {
				e.Block(left, right)
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*512), "ns/sample")
		})
	}
}

// BenchmarkCompile tells what an edit of the structure costs the desk.
func BenchmarkCompile(b *testing.B) {
	for _, n := range []int{10, 998} {
		p := chain(n, true)
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				compileKind(b, p)
			}
		})
	}
}
