package patch_test

import (
	"fmt"
	"testing"

	"lampblack/patch"
)

// largest is a patch of MaxModules modules and MaxCords cords.
func largest() (p patch.Patch) {
	name := func(i int) string { return fmt.Sprint("reed ", i%patch.MaxModules) }
	for i := range patch.MaxModules {
		p.Modules = append(p.Modules, patch.Module{Name: name(i), Kind: "filter", Settings: map[string]patch.Setting{"width": patch.Rounded(45, "Hz"), "centre": patch.Rounded(2100, "Hz")}})
		for j := range patch.MaxCords / patch.MaxModules {
			p.Cords = append(p.Cords, patch.Cord{From: at(name(i), "out"), To: at(name(i+j), "centre"), Depth: patch.Setting{Value: 0.8, Unit: "oct"}})
		}
	}
	return p
}

func BenchmarkLoadTheLargestPatch(b *testing.B) {
	file := largest().JSON()
	b.SetBytes(int64(len(file)))
	for b.Loop() {
		if _, err := patch.Load(file, kinds); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkWriteTheLargestPatch(b *testing.B) {
	p := largest()
	for b.Loop() {
		p.JSON()
	}
}

// The dearest comparison: every module has another name.
func BenchmarkCompareWithEveryModuleRenamed(b *testing.B) {
	p, q := largest(), largest()
	for i := range q.Modules {
		q.Modules[i].Name += " b"
	}
	for i := range q.Cords {
		q.Cords[i].From.Module += " b"
		q.Cords[i].To.Module += " b"
	}
	for b.Loop() {
		patch.Compare(p, q, kinds)
	}
}
