package kind_test

import (
	"slices"
	"strings"
	"testing"

	"lampblack/patch"
	"lampblack/patch/kind"
)

var _ patch.Kinds = kind.Catalogue

func TestCatalogueFindsWhatItLists(t *testing.T) {
	for i, k := range kind.All() {
		if kind.Names()[i] != k.Name {
			t.Errorf("name %d is %q, kind %d is %q", i, kind.Names()[i], i, k.Name)
		}
		m, ok := kind.Catalogue.Module(k.Name)
		p, ok2 := kind.Catalogue.Kind(k.Name)
		if !ok || !ok2 || m != k || p != &k.Kind {
			t.Errorf("%s is not found as itself", k.Name)
		}
	}
	if _, ok := kind.Catalogue.Kind("kettle"); ok {
		t.Error("a kind that is not there was found")
	}
}

func TestKindsStandInTheOrderOfTheirFamilies(t *testing.T) {
	last := 0
	for _, k := range kind.All() {
		n := slices.Index(patch.Families(), k.Family)
		if n < last {
			t.Errorf("%s (%s) stands behind a kind of a later family", k.Name, k.Family)
		}
		last = n
	}
}

func TestEveryKindSaysWhatItIs(t *testing.T) {
	for _, k := range kind.All() {
		if k.Version < 1 || k.Title == "" || len(k.Help) < 200 || k.New == nil || len(k.Outputs) == 0 {
			t.Errorf("%s lacks a version, a title, a help text, a sound or an output", k.Name)
		}
		if !slices.Contains(patch.Symbols(), k.Symbol) || !slices.Contains(patch.Families(), k.Family) {
			t.Errorf("%s: symbol %q or family %q is not there", k.Name, k.Symbol, k.Family)
		}
		names := map[string]bool{}
		for _, in := range k.Inputs {
			checkWord(t, k.Name, in.Name, in.Help, names)
		}
		for _, c := range k.Controls {
			checkWord(t, k.Name, c.Name, c.Help, names) // a cord names either, so they share one set
		}
		names = map[string]bool{}
		for _, out := range k.Outputs {
			checkWord(t, k.Name, out.Name, out.Help, names)
		}
	}
}

func checkWord(t *testing.T, kind, name, help string, taken map[string]bool) {
	if name == "" || strings.Contains(name, "/") || taken[name] {
		t.Errorf("%s: socket or control %q has no name of its own", kind, name)
	}
	taken[name] = true
	if len(help) < 15 {
		t.Errorf("%s / %s has no help", kind, name)
	}
}

func TestEveryRulerCanBeDrawnAndMoved(t *testing.T) {
	for _, k := range kind.All() {
		for _, c := range k.Controls {
			for _, s := range c.Scales {
				if !(s.Min < s.Max && s.Min <= s.Default && s.Default <= s.Max) {
					t.Errorf("%s / %s: %g, %g, %g are out of order", k.Name, c.Name, s.Min, s.Default, s.Max)
				}
				if s.Taper == patch.Logarithmic && s.Min <= 0 {
					t.Errorf("%s / %s: a logarithmic ruler starts at %g", k.Name, c.Name, s.Min)
				}
				if s.Choices != nil && float64(len(s.Choices)-1) != s.Max {
					t.Errorf("%s / %s: %d choices, highest number %g", k.Name, c.Name, len(s.Choices), s.Max)
				}
				if c.Fixed != (len(s.Moves) == 0) {
					t.Errorf("%s / %s: everything but what is settled when a patch is compiled can be moved by a cord", k.Name, c.Name)
				}
				for _, m := range s.Moves {
					if m.Max <= 0 || m.Unit == "" {
						t.Errorf("%s / %s: move %+v", k.Name, c.Name, m)
					}
				}
			}
		}
	}
}
