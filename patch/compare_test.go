package patch_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"lampblack/patch"
	"pgregory.net/rapid"
)

// rename gives a module another name, in its cords too.
func rename(p *patch.Patch, from, to string) {
	p.Module(from).Name = to
	for i := range p.Cords {
		for _, s := range []*patch.Socket{&p.Cords[i].From, &p.Cords[i].To} {
			if s.Module == from {
				s.Module = to
			}
		}
	}
}

func TestChangesReadAsASoundMakerWritesThem(t *testing.T) {
	width := func(text string) func(*patch.Patch) {
		return func(p *patch.Patch) {
			s, err := patch.ParseSetting(text, &width)
			if err != nil {
				t.Fatal(err)
			}
			p.Module("reed").Settings["width"] = s
		}
	}
	remove := func(p *patch.Patch, name string) {
		p.Modules = slices.DeleteFunc(p.Modules, func(m patch.Module) bool { return m.Name == name })
		p.Cords = slices.DeleteFunc(p.Cords, func(c patch.Cord) bool { return c.From.Module == name || c.To.Module == name })
	}
	for _, c := range []struct {
		name   string
		change func(*patch.Patch)
		want   []string
	}{
		{"nothing", func(*patch.Patch) {}, nil},
		{"a setting", width("45 Hz"), []string{"reed: width Q 20 -> 45 Hz"}},
		{"the same value in other digits", width("20.0 Q"), nil},
		{"a value that is shown alike", func(p *patch.Patch) {
			p.Module("reed").Settings["centre"] = patch.Setting{Value: 2100.001, Unit: "Hz"}
		}, []string{"reed: centre 2.10 kHz -> 2100.001 Hz"}},
		{"two values that are shown alike", func(p *patch.Patch) {
			p.Module("reed").Settings["centre"] = patch.Setting{Value: math.Nextafter(2100, 0), Unit: "Hz"}
		}, []string{"reed: centre 2.10 kHz -> 2099.9999999999995 Hz"}},
		{"back to the default", func(p *patch.Patch) { delete(p.Module("reed").Settings, "centre") }, []string{"reed: centre 2.10 kHz -> 1.00 kHz"}},
		{"a default written out", func(p *patch.Patch) { delete(p.Module("reed").Settings, "level") }, nil},
		{"a choice left out", func(p *patch.Patch) { delete(p.Module("sway").Settings, "shape") }, []string{"sway: shape triangle -> sine"}},
		{"moved on the sheet", func(p *patch.Patch) { p.Modules[0].At.X = 700 }, nil},
		{"another name of the patch", func(p *patch.Patch) { p.Name = "x" }, nil},
		{"the seed", func(p *patch.Patch) { p.Seed = 2 }, []string{"seed 18446744073709551615 -> 2"}},
		{"a module added and joined", func(p *patch.Patch) {
			p.Modules = append(p.Modules, patch.Module{Name: "drift", Kind: "slow"})
			p.Cords = append(p.Cords, patch.Cord{From: at("drift", "out"), To: at("reed", "level"), Depth: patch.Setting{Value: 6, Unit: "dB"}})
		}, []string{"drift added (slow oscillator)", "cord drift / out -> reed / level added (+6.0 dB)"}},
		{"a module removed", func(p *patch.Patch) { remove(p, "swell") }, []string{"swell removed", "cord swell / out -> out / level removed"}},
		{"a module renamed", func(p *patch.Patch) { rename(p, "reed", "wet reed") }, []string{"reed renamed wet reed"}},
		{"renamed and changed", func(p *patch.Patch) {
			width("45 Hz")(p)
			rename(p, "reed", "wet reed")
		}, []string{"reed renamed wet reed", "wet reed: width Q 20 -> 45 Hz"}},
		{"two neighbours renamed", func(p *patch.Patch) {
			rename(p, "reed", "wet reed")
			rename(p, "sway", "drift")
		}, []string{"sway renamed drift", "reed renamed wet reed"}},
		{"replaced by another of its kind", func(p *patch.Patch) {
			remove(p, "swell")
			p.Modules = append(p.Modules, patch.Module{Name: "gust", Kind: "envelope"})
		}, []string{"gust added (envelope)", "swell removed", "cord swell / out -> out / level removed"}},
		{"another kind", func(p *patch.Patch) {
			p.Module("sway").Kind = "oscillator"
			p.Module("sway").Settings = nil
		}, []string{"sway: kind slow oscillator -> oscillator", "sway: shape triangle -> sine"}},
		{"a depth", func(p *patch.Patch) { p.Cords[1].Depth = patch.Setting{Value: 0.4, Unit: "oct"} }, []string{"sway / out -> reed / centre: depth +0.8 oct -> +0.4 oct"}},
		{"a cord", func(p *patch.Patch) { p.Cords[4].To.Name = "right" }, []string{"cord reed / out -> out / left removed", "cord reed / out -> out / right added"}},
		{"another recording", func(p *patch.Patch) { p.Module("voice").Recording = &patch.Recording{Name: "drip.wav"} }, []string{"voice: recording sounds/vent.wav -> drip.wav"}},
		{"another recording of that name", func(p *patch.Patch) { p.Module("voice").Recording.SHA256 = strings.Repeat("0", 64) }, []string{"voice: recording sounds/vent.wav -> sounds/vent.wav (other sound)"}},
		{"the recording's file renamed", func(p *patch.Patch) { p.Module("voice").Recording.Name = "vent.wav" }, nil},
		{"no recording", func(p *patch.Patch) { p.Module("voice").Recording = nil }, []string{"voice: recording sounds/vent.wav -> none"}},
		{"another order", func(p *patch.Patch) { slices.Reverse(p.Modules); slices.Reverse(p.Cords) }, nil},
	} {
		a, b := whole(t), whole(t)
		c.change(&b)
		var got []string
		for _, change := range patch.Compare(a, b, kinds) {
			got = append(got, change.String())
		}
		if d := cmp.Diff(c.want, got); d != "" {
			t.Errorf("%s (-want +got):\n%s", c.name, d)
		}
		if same := completed(a).SameSound(completed(b)); same != (len(c.want) == 0) {
			t.Errorf("%s: same sound is %v", c.name, same)
		}
	}
}

func TestUnknownKindsCanBeCompared(t *testing.T) {
	a := patch.Patch{Modules: []patch.Module{{Name: "x", Kind: "organ", Settings: map[string]patch.Setting{"stop": {Value: 8, Unit: "Hz"}}}}}
	b := a.Clone()
	b.Modules[0].Settings["reed"] = patch.Setting{Value: 2, Unit: "s"}
	delete(b.Modules[0].Settings, "stop")
	for _, k := range []patch.Kinds{nil, kinds} {
		if got := fmt.Sprint(patch.Compare(a, b, k)); got != "[x: reed default -> 2 s x: stop 8 Hz -> default]" {
			t.Error(got)
		}
	}
}

// completed writes out every default.
func completed(p patch.Patch) patch.Patch {
	p = p.Clone()
	for i, m := range p.Modules {
		if m.Settings == nil {
			p.Modules[i].Settings = map[string]patch.Setting{}
		}
		for _, c := range kinds[m.Kind].Controls {
			if _, ok := m.Settings[c.Name]; !ok {
				p.Modules[i].Settings[c.Name] = c.Default()
			}
		}
	}
	return p
}

// edited changes one thing of p, or nothing that is heard.
func edited(t *rapid.T, p patch.Patch) patch.Patch {
	p = p.Clone()
	what := rapid.IntRange(0, 7).Draw(t, "edit")
	if what == 0 {
		p.Seed++
	}
	if len(p.Modules) > 0 {
		i := rapid.IntRange(0, len(p.Modules)-1).Draw(t, "module")
		m := &p.Modules[i]
		switch what {
		case 1:
			m.At.X = 5
		case 2:
			c := rapid.SampledFrom(kinds[m.Kind].Controls).Draw(t, "control")
			m.Settings[c.Name] = anySetting(t, &c)
		case 3:
			p.Modules = slices.Delete(p.Modules, i, i+1)
		case 4:
			rename(&p, m.Name, m.Name+" b")
		}
	}
	if len(p.Cords) > 0 {
		i := rapid.IntRange(0, len(p.Cords)-1).Draw(t, "cord")
		switch what {
		case 5:
			p.Cords = slices.Delete(p.Cords, i, i+1)
		case 6:
			p.Cords[i].Depth.Value *= 0.75
		case 7:
			slices.Reverse(p.Cords)
		}
	}
	return p
}

func TestThereIsAChangeWhereItSoundsDifferent(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyPatch(t)
		a := completed(p)
		if c := patch.Compare(a, a, kinds); len(c) > 0 || !a.SameSound(a) || !a.Equal(a) {
			t.Fatalf("a patch differs from itself: %v", c)
		}
		if c := patch.Compare(p, a, kinds); len(c) > 0 {
			t.Fatalf("defaults written out are changes: %v", c)
		}
		b := edited(t, edited(t, a))
		there, back := patch.Compare(a, b, kinds), patch.Compare(b, a, kinds)
		if (len(there) == 0) != a.SameSound(b) || len(there) != len(back) || a.SameSound(b) != b.SameSound(a) {
			t.Fatalf("same sound: %v; there %v; back %v", a.SameSound(b), there, back)
		}
		if a.Equal(b) && len(there) > 0 {
			t.Fatalf("equal, and yet changed: %v", there)
		}
	})
}
