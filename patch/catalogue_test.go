package patch_test

import (
	"strings"
	"testing"

	"lampblack/patch"
	"lampblack/patch/kind"
)

// Whatever a kind offers has to be writable: a unit that can't be read, or a
// choice that reads as a number, would be lost in a file.
func TestWhatTheRealKindsOfferCanBeWrittenAndRead(t *testing.T) {
	for _, k := range kind.All() {
		for _, c := range k.Controls {
			for i, name := range c.Scales[0].Choices {
				if s, err := patch.ParseSetting(name, &c); err != nil || s != c.Choice(i) || s.Exact() != name {
					t.Errorf("%s / %s: the choice %q is read as %v (%v)", k.Name, c.Name, name, s, err)
				}
			}
			for _, s := range c.Scales {
				written(t, k.Name, &c, s.Unit, s.Min, s.Max, s.Default)
				for _, m := range s.Moves {
					d := patch.Setting{Value: m.Max, Unit: m.Unit}
					if got, err := patch.ParseDepth(d.Signed(), &c); err != nil || got.Value != m.Max || got.Unit != m.Unit {
						t.Errorf("%s / %s: the depth %s is read as %v (%v)", k.Name, c.Name, d.Signed(), got, err)
					}
				}
			}
		}
	}
}

func written(t *testing.T, kind string, c *patch.Control, unit string, values ...float64) {
	for _, v := range values {
		s := patch.Setting{Value: v, Unit: unit}
		if got, err := patch.ParseSetting(s.Exact(), c); err != nil || got.Value != v || got.Unit != unit {
			t.Errorf("%s / %s: %s is read as %v (%v)", kind, c.Name, s.Exact(), got, err)
		}
	}
}

func TestTheRealCatalogueSuggestsNames(t *testing.T) {
	p := patch.Patch{Modules: []patch.Module{{Name: "reed", Kind: "fliter"}}}
	if err := p.Validate(kind.Catalogue); err == nil || !strings.Contains(err.Error(), "did you mean filter?") {
		t.Error(err)
	}
}
