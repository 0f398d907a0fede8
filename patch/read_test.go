package patch_test

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"lampblack/patch"
	"pgregory.net/rapid"
)

func fixture(t testing.TB, name string) []byte {
	t.Helper()
	file, err := os.ReadFile("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	return file
}

// A file of version 1 must load for ever, whatever later versions look like.
func TestAFileOfVersion1LoadsAndIsWrittenUnchanged(t *testing.T) {
	file := fixture(t, "version1.json")
	p, err := patch.Load(file, kinds)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(string(file), string(p.JSON())); d != "" {
		t.Errorf("written again it differs (-was +is):\n%s", d)
	}
	if p.Seed != 1<<64-1 || p.Module("reed").Settings["centre"].Value != 2100 || p.Module("sway").Settings["shape"].Value != 1 {
		t.Errorf("its seed, centre and shape are read as %d, %v, %v", p.Seed, p.Module("reed").Settings["centre"], p.Module("sway").Settings["shape"])
	}
	if v := p.Module("swell").Settings["attack"].Value; v != 0.18000000000000002 {
		t.Errorf("the last bit of a setting is lost: %v", v)
	}
	if d := p.Cords[5].Depth; d.Value != 0.025 || d.Unit != "oct" {
		t.Errorf("30 cent are read as %g %s", d.Value, d.Unit)
	}
}

func TestALooselyWrittenFileIsResolvedByItsKinds(t *testing.T) {
	p, err := patch.Load([]byte(`{"lampblack patch": 1, "modules": [
		{"name": "a", "kind": "slow", "settings": {"shape": "SAW", "rate": "0,5"}},
		{"name": "b", "kind": "filter", "settings": {"width": "20 Q", "centre": "2.1k"}}],
		"cords": [{"from": "a/out", "to": "b/level", "depth": "50 %"}, {"from": "a / out", "to": "b / centre", "depth": "1"}]}`), kinds)
	if err != nil {
		t.Fatal(err)
	}
	want := patch.Patch{
		Modules: []patch.Module{
			{Name: "a", Kind: "slow", Settings: map[string]patch.Setting{"shape": {Value: 2, Text: "saw"}, "rate": {Value: 0.5, Unit: "Hz", Text: "0.5 Hz"}}},
			{Name: "b", Kind: "filter", Settings: map[string]patch.Setting{"width": {Value: 20, Unit: "Q", Text: "Q 20"}, "centre": {Value: 2100, Unit: "Hz", Text: "2.1 kHz"}}},
		},
		Cords: []patch.Cord{
			{From: patch.Socket{Module: "a", Name: "out"}, To: patch.Socket{Module: "b", Name: "level"}, Depth: patch.Setting{Value: 0.5, Unit: "x"}},
			{From: patch.Socket{Module: "a", Name: "out"}, To: patch.Socket{Module: "b", Name: "centre"}, Depth: patch.Setting{Value: 1, Unit: "oct", Text: "+1 oct"}},
		},
	}
	if d := cmp.Diff(want, p); d != "" {
		t.Errorf("-want +got:\n%s", d)
	}
}

func TestAFileThatIsNoPatchIsRefused(t *testing.T) {
	head := `{"lampblack patch": 1, `
	module := func(rest string) string { return head + `"modules": [{"name": "reed", "kind": "filter"` + rest + `}]}` }
	for _, c := range []struct{ name, file, says string }{
		{"empty", "", "empty"},
		{"not JSON", "RIFF....WAVE", "not JSON"},
		{"cut short", string(fixture(t, "version1.json")[:500]), "not JSON"},
		{"another format", `{"name": "x"}`, "no patch file"},
		{"a list", `[1]`, "no patch file"},
		{"a newer version", `{"lampblack patch": 2, "lanes": []}`, "version 2; this program reads up to version 1"},
		{"version 0", `{"lampblack patch": 0}`, "allowed is 1"},
		{"version as text", `{"lampblack patch": "1"}`, "whole number"},
		{"unknown key", head + `"colour": "red"}`, `"colour" is not known`},
		{"unknown key of a module", module(`, "color": 1`), `reed: "color" is not known`},
		{"duplicate key", head + `"seed": 1, "seed": 2}`, "second time"},
		{"duplicate control", module(`, "settings": {"width": "45 Hz", "width": "46 Hz"}`), "second time"},
		{"trailing data", head + `"seed": 1} {}`, "not JSON"},
		{"seed too large", head + `"seed": 18446744073709551616}`, "seed: the number 18446744073709551616"},
		{"negative seed", head + `"seed": -1}`, "whole number"},
		{"NaN", module(`, "settings": {"width": "NaN"}`), "reed / width: \"NaN\" must be a finite number"},
		{"infinite", module(`, "settings": {"width": "-Infinity Hz"}`), "finite"},
		{"too large a number", module(`, "settings": {"width": "1e999 Hz"}`), "too large"},
		{"too large a place", module(`, "at": [1e999, 0]`), "too large"},
		{"half a place", module(`, "at": [1]`), "a place is [x, y]"},
		{"bare number", module(`, "settings": {"width": 45}`), `the number 45 stands where a text in quotes must be (a number needs its unit`},
		{"empty setting", module(`, "settings": {"width": " "}`), "empty"},
		{"long setting", module(`, "settings": {"width": "` + strings.Repeat("0", 65) + ` Hz"}`), "68 characters; allowed are 64"},
		{"a comma that may mean two things", module(`, "settings": {"width": "1,200 Hz"}`), "may mean"},
		{"no kind", head + `"modules": [{"name": "reed"}]}`, `reed: "kind" is missing`},
		{"null name", head + `"modules": [{"name": null, "kind": "filter"}]}`, "null stands"},
		{"no socket", head + `"cords": [{"from": "reed", "to": "out / left"}]}`, `"reed" is no socket`},
		{"modules as an object", head + `"modules": {}}`, "an object stands where an array"},
		{"10,000 modules", head + `"modules": [` + strings.Repeat(`{"name": "m", "kind": "noise"},`, 9999) + `{"name": "m", "kind": "noise"}]}`, "has 10000 modules; allowed are 1000"},
		{"10,001 cords", head + `"cords": [` + strings.Repeat(`{},`, 10000) + `{}]}`, "has 10001 cords; allowed are 10000"},
		{"too large a file", strings.Repeat(" ", 9<<20), "allowed are 8388608"},
	} {
		p, err := patch.Read([]byte(c.file))
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %.300v; want it refused saying %q", c.name, err, c.says)
		}
		if !p.Equal(patch.Patch{}) {
			t.Errorf("%s: half a patch comes back with the error", c.name)
		}
	}
}

func TestEveryFaultOfAFileIsToldWithItsLine(t *testing.T) {
	_, err := patch.Read([]byte("{\"lampblack patch\": 1,\n\"colour\": 1,\n\"seed\": \"x\",\n\"modules\": [{\"name\": \"a\", \"kind\": \"noise\", \"settings\": {\"level\": \"inf\"}}]}"))
	var lines []string
	for _, f := range patch.Faults(err) {
		lines = append(lines, fmt.Sprintf("%d %s/%s", f.Line, f.Module, f.Place))
	}
	if want := []string{"2 /", "3 /seed", "4 a/level"}; !cmp.Equal(lines, want) {
		t.Errorf("faults are at %q, want %q\n%v", lines, want, err)
	}
}

func TestARandomPatchComesBackUnchanged(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyPatch(t)
		if err := p.Validate(kinds); err != nil {
			t.Fatalf("the generator drew a patch with faults: %v", err)
		}
		q, err := patch.Load(p.JSON(), kinds)
		if err != nil || !p.Equal(q) || !q.Equal(p) || !p.SameSound(q) {
			t.Fatalf("%v\n%s\n%s", err, p.JSON(), q.JSON())
		}
		ignoreText := cmpopts.IgnoreFields(patch.Setting{}, "Text")
		if d := cmp.Diff(p, q, ignoreText, cmpopts.EquateEmpty()); d != "" { // bit for bit
			t.Fatalf("-written +read:\n%s", d)
		}
	})
}

func FuzzRead(f *testing.F) {
	f.Add(fixture(f, "version1.json"))
	for _, s := range []string{
		`{"lampblack patch": 1}`,
		`{"lampblack patch": 1, "modules": [{"name": "a", "kind": "no such kind"}]}`,
		`{"lampblack patch": 1, "modules": [{"name": "a", "kind": "filter", "settings": {"width": "NaN"}}]}`,
		`{"lampblack patch": 1, "modules": [{"name": "a", "kind": "filter", "settings": {"width": "1e999 Hz", "centre": "-5"}}]}`,
		`{"lampblack patch": 1, "modules": [{"name": "a", "kind": "filter"}], "cords": [{"from": "a / out", "to": "a / in"}, {"from": "a / nothing", "to": "b / in", "depth": "x -.5e-3"}]}`,
		`{"lampblack patch": 1, "modules": [` + strings.Repeat(`{"name": "m", "kind": "noise"},`, 9999) + `{"name": "m", "kind": "noise"}]}`,
		`{"lampblack patch": 1, "name": "\ud800", "seed": 1e3, "modules": [{"name": "", "kind": "", "at": [-0.0, 1e-320], "file": {"name": ""}}]}`,
	} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, file []byte) {
		p, err := patch.Read(file)
		if err != nil {
			return // it may refuse, it may not panic
		}
		if q, err := patch.Read(p.JSON()); err != nil || !p.Equal(q) {
			t.Errorf("accepted, written, and then not the same: %v\n%s", err, p.JSON())
		}
		p = patch.Resolve(p, kinds)
		if p.Validate(kinds) != nil {
			return
		}
		if q, err := patch.Load(p.JSON(), kinds); err != nil || !p.Equal(q) || !p.SameSound(q) {
			t.Errorf("valid, written, and then not the same: %v\n%s", err, p.JSON())
		}
	})
}

// Somebody mends a file by what is told: all of it, in one go.
func TestLoadTellsFaultsOfFormAndOfMeaningAtOnce(t *testing.T) {
	file := `{"lampblack patch": 1, "modules": [
		{"name": "a", "kind": "noise", "at": "x", "colour": 1},
		{"name": "b", "kind": "theremin"}],
		"cords": [{"from": "a / out"}, {"from": "a / out", "to": "c / in"}]}`
	_, err := patch.Load([]byte(file), kinds)
	var got []string
	for _, f := range patch.Faults(err) {
		got = append(got, f.Error())
	}
	all := strings.Join(got, "\n")
	for _, want := range []string{
		`line 2: a: "colour" is not known here`,
		"line 2: a / at: the text",
		`"to" is missing`,
		`b: there is no kind "theremin"`,
		"cord a / out -> c / in: the cord ends at a module that is not there",
	} {
		if strings.Count(all, want) != 1 {
			t.Errorf("%q stands %d times in\n%s", want, strings.Count(all, want), all)
		}
	}
	if len(got) != 5 {
		t.Errorf("%d faults are told, want 5:\n%s", len(got), all)
	}
}
