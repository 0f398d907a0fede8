package patch_test

import (
	"fmt"
	"maps"
	"slices"

	"lampblack/patch"
	"pgregory.net/rapid"
)

// anyPatch draws a valid patch of the tests' own kinds, loops included.
func anyPatch(t *rapid.T) patch.Patch {
	p := patch.Patch{Name: rapid.SampledFrom([]string{"", "moths", "Ventil & <Dach>"}).Draw(t, "name"), Seed: rapid.Uint64().Draw(t, "seed")}
	names := slices.Sorted(maps.Keys(kinds))
	for i := range rapid.IntRange(0, 5).Draw(t, "modules") {
		m := patch.Module{
			Name: fmt.Sprintf("%s %d", rapid.SampledFrom([]string{"reed", "mast wind", "\u00fcber \U0001F41B"}).Draw(t, "name"), i),
			Kind: rapid.SampledFrom(names).Draw(t, "kind"),
			At:   patch.Point{X: rapid.Float64Range(0, patch.MaxPosition).Draw(t, "x"), Y: float64(rapid.IntRange(0, 2000).Draw(t, "y"))},
		}
		for _, c := range kinds[m.Kind].Controls {
			if rapid.Bool().Draw(t, "set") {
				if m.Settings == nil {
					m.Settings = map[string]patch.Setting{}
				}
				m.Settings[c.Name] = anySetting(t, &c)
			}
		}
		if table := kinds[m.Kind].Table; table != nil && rapid.Bool().Draw(t, "rows") {
			m.Rows = [][]float64{}
			for range rapid.IntRange(table.Least, table.Most).Draw(t, "number of rows") {
				row := table.Row()
				for k, c := range table.Columns {
					row[k] = c.Scale.At(rapid.Float64Range(0, 1).Draw(t, "number"))
				}
				m.Rows = append(m.Rows, row)
			}
		}
		if m.Kind == "recording" {
			m.Recording = &patch.Recording{Name: "vent.wav"}
		}
		p.Modules = append(p.Modules, m)
	}
	for range rapid.IntRange(0, 8).Draw(t, "cords") {
		if c, ok := anyCord(t, p); ok && !slices.ContainsFunc(p.Cords, func(d patch.Cord) bool { return d.String() == c.String() }) {
			p.Cords = append(p.Cords, c)
		}
	}
	return p
}

// anyCord draws a cord between modules of p, if p has an output to start at.
func anyCord(t *rapid.T, p patch.Patch) (c patch.Cord, ok bool) {
	var sources []patch.Module
	for _, m := range p.Modules {
		if len(kinds[m.Kind].Outputs) > 0 {
			sources = append(sources, m)
		}
	}
	if len(sources) == 0 {
		return c, false
	}
	from, to := rapid.SampledFrom(sources).Draw(t, "from"), rapid.SampledFrom(p.Modules).Draw(t, "to")
	c.From = patch.Socket{Module: from.Name, Name: "out"}
	kind := kinds[to.Kind]
	if len(kind.Inputs) > 0 && rapid.Bool().Draw(t, "into an input") {
		c.To = patch.Socket{Module: to.Name, Name: rapid.SampledFrom(kind.Inputs).Draw(t, "input").Name}
		return c, true
	}
	control := rapid.SampledFrom(kind.Controls).Draw(t, "control")
	scale := &control.Scales[0]
	if s, set := to.Settings[control.Name]; set {
		scale = &control.Scales[control.Scale(s.Unit)]
	}
	if len(scale.Moves) == 0 {
		return c, false
	}
	move := rapid.SampledFrom(scale.Moves).Draw(t, "move")
	c.To = patch.Socket{Module: to.Name, Name: control.Name}
	c.Depth = patch.Setting{Value: rapid.Float64Range(-move.Max, move.Max).Draw(t, "depth"), Unit: move.Unit}
	return c, true
}
