package response

import (
	"testing"

	"lampblack/app/desk"
	"lampblack/patch"
)

// BenchmarkAnswer is how long it takes from a change of a control to the line, and
// to the measured points beside it.
func BenchmarkAnswer(b *testing.B) {
	for _, kind := range []struct{ kind, out string }{{"filter", "band"}, {"ladder", "out"}, {"delay", "out"}, {"reverberator", "left"}, {"envelope", "out"}, {"oscillator", "out"}, {"saturation", "out"}} {
		s := desk.New(desk.Options{})
		e, name := desk.AddModule(kind.kind, patch.Point{}, s.Patch())
		s.Do(e)
		p := New(s, func(func()) {})
		p.set.out = kind.out
		s.Select(desk.Selection{Modules: []string{name}, Cord: -1, Note: -1})
		q := p.question()
		r := q.compute()
		b.Run(kind.kind+"/computed", func(b *testing.B) {
			for b.Loop() {
				r = q.compute()
			}
		})
		b.Run(kind.kind+"/measured", func(b *testing.B) {
			for b.Loop() {
				r.measure()
			}
		})
	}
}
