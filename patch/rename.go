package patch

import (
	"cmp"
	"slices"
)

// renames finds modules that have another name only: one that is gone and one
// that is new, of the same kind, which share at least half of what either of
// them has (settings, and cords to modules that stayed). The most alike are
// paired first. It returns new names by old ones.
func (c *comparison) renames(a, b Patch) map[string]string {
	type pair struct {
		from, to string
		alike    float64
	}
	var pairs []pair
	gone, fresh := c.traits(a, c.after), c.traits(b, c.before)
	for _, m := range a.Modules {
		for _, n := range b.Modules {
			if m.Kind != n.Kind || gone[m.Name] == nil || fresh[n.Name] == nil {
				continue
			}
			if alike := gone[m.Name].alike(fresh[n.Name]); alike >= 0.5 {
				pairs = append(pairs, pair{m.Name, n.Name, alike})
			}
		}
	}
	slices.SortStableFunc(pairs, func(x, y pair) int { return cmp.Compare(y.alike, x.alike) })
	renamed, taken := map[string]string{}, map[string]bool{}
	for _, p := range pairs {
		if _, done := renamed[p.from]; !done && !taken[p.to] {
			renamed[p.from], taken[p.to] = p.to, true
		}
	}
	return renamed
}

// traits are a module's settings and cords as texts.
type traits map[string]bool

// alike returns how much s and t share, 0 to 1: what both have over what either
// has (Jaccard's index). Two modules without any trait are alike.
func (s traits) alike(t traits) float64 {
	both := 0
	for trait := range s {
		if t[trait] {
			both++
		}
	}
	if len(s)+len(t) == 0 {
		return 1
	}
	return float64(both) / float64(len(s)+len(t)-both)
}

// traits returns the traits of the modules of p that are not in other.
func (c *comparison) traits(p Patch, other map[string]*Module) map[string]traits {
	all := map[string]traits{}
	for _, m := range p.Modules {
		if _, ok := other[m.Name]; ok {
			continue
		}
		all[m.Name] = traits{}
		for name, s := range m.Settings {
			all[m.Name][name+" "+s.Exact()] = true
		}
		if m.Recording != nil {
			all[m.Name]["recording "+m.Recording.Name+" "+m.Recording.SHA256] = true
		}
	}
	stayed := func(s Socket) string {
		if all[s.Module] != nil {
			return "? / " + s.Name // its name may have changed too
		}
		return s.String()
	}
	for _, cord := range p.Cords {
		if t := all[cord.From.Module]; t != nil {
			t[cord.From.Name+" -> "+stayed(cord.To)] = true
		}
		if t := all[cord.To.Module]; t != nil {
			t[stayed(cord.From)+" -> "+cord.To.Name] = true
		}
	}
	return all
}
