package patch_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"lampblack/patch"
)

// named is a catalogue that can list its kinds.
type named struct{ catalogue }

func (named) Names() []string {
	return []string{"oscillator", "slow", "filter", "envelope", "recording", "output"}
}

func whole(t *testing.T) patch.Patch {
	t.Helper()
	p, err := patch.Load(fixture(t, "version1.json"), kinds)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func at(module, name string) patch.Socket { return patch.Socket{Module: module, Name: name} }

func TestAFaultIsToldWithItsPlaceAndWhatIsAllowed(t *testing.T) {
	set := func(module, control string, s patch.Setting) func(*patch.Patch) {
		return func(p *patch.Patch) { p.Module(module).Settings[control] = s }
	}
	join := func(c patch.Cord) func(*patch.Patch) { return func(p *patch.Patch) { p.Cords = append(p.Cords, c) } }
	octave := patch.Setting{Value: 1, Unit: "oct"}
	for _, c := range []struct {
		name   string
		change func(*patch.Patch)
		says   string
	}{
		{"unknown kind, nearly known", func(p *patch.Patch) { p.Module("reed").Kind = "fliter" }, `reed: there is no kind "fliter"; did you mean filter?`},
		{"unknown kind, unlike any", func(p *patch.Patch) { p.Module("reed").Kind = "xylophone" }, `known are oscillator, slow, filter`},
		{"unknown control", set("reed", "widht", patch.Setting{Value: 1, Unit: "Hz"}), `reed / widht: filter has no such control; it has centre, width, level`},
		{"no name", func(p *patch.Patch) { p.Modules[0].Name = "" }, "module 1: it has no name"},
		{"a long name", func(p *patch.Patch) { p.Modules[0].Name = strings.Repeat("\u00fc", 81) }, "81 characters; allowed are 80"},
		{"a slash in a name", func(p *patch.Patch) { p.Modules[0].Name = "a/b" }, "all but / and control"},
		{"a line break in a name", func(p *patch.Patch) { p.Modules[0].Name = "a\nb" }, "all but / and control"},
		{"a name that is not UTF-8", func(p *patch.Patch) { p.Modules[0].Name = "a\xff" }, "all but / and control"},
		{"a space before a name", func(p *patch.Patch) { p.Modules[0].Name = " a" }, "starts or ends with a space"},
		{"two modules of one name", func(p *patch.Patch) { p.Modules[1].Name = "reed" }, "reed: two modules bear this name"},
		{"a bad name of the patch", func(p *patch.Patch) { p.Name = "a\x00" }, "name: the name"},
		{"a place off the sheet", func(p *patch.Patch) { p.Modules[0].At.X = -1 }, "voice / at: it lies at -1, 120; allowed is 0 to 100000"},
		{"a place that is no number", func(p *patch.Patch) { p.Modules[0].At.Y = math.NaN() }, "voice / at"},
		{"a value out of range", set("reed", "width", patch.Setting{Unit: "Hz"}), "reed / width: 0 Hz is out of range; allowed is 1 Hz to 2.00 kHz, or Q 0.5 to Q 100"},
		{"just out of range", set("reed", "width", patch.Setting{Value: math.Nextafter(2000, 3000), Unit: "Hz"}), "2000.0000000000002 Hz is out of range"},
		{"the wrong unit", set("reed", "width", patch.Setting{Value: 1, Unit: "s"}), "reed / width: 1 s is in the wrong unit; allowed"},
		{"NaN", set("reed", "width", patch.Setting{Value: math.NaN(), Unit: "Hz"}), "reed / width: NaN Hz is not a finite number; allowed"},
		{"infinity", set("reed", "width", patch.Setting{Value: math.Inf(1), Unit: "Hz"}), "finite number"},
		{"a word that is no choice", set("sway", "shape", patch.Setting{Value: math.NaN(), Text: "sinus"}), `sway / shape: "sinus" is not understood; allowed is sine, triangle or saw`},
		{"no such choice", set("sway", "shape", patch.Setting{Value: 3}), "sway / shape: 3 is out of range; allowed is sine, triangle or saw"},
		{"a choice whose text is another", set("sway", "shape", patch.Setting{Value: 2, Text: "sine"}), `its text "sine" is not its value 2`},
		{"between two choices", set("sway", "shape", patch.Setting{Value: 0.5}), "between two steps"},
		{"a recording on a filter", func(p *patch.Patch) { p.Module("reed").Recording = &patch.Recording{Name: "a.wav"} }, "reed / file: filter plays no recording"},
		{"a recording without a name", func(p *patch.Patch) { p.Module("voice").Recording = &patch.Recording{} }, "voice / file: it names no file"},
		{"a bad SHA-256", func(p *patch.Patch) { p.Module("voice").Recording.SHA256 = "E3B0" }, "64 digits"},
		{"a missing module at the start", join(patch.Cord{From: at("mist", "out"), To: at("reed", "in")}), "cord mist / out -> reed / in: the cord starts at a module that is not there"},
		{"a missing module at the end", join(patch.Cord{From: at("reed", "out"), To: at("mist", "in")}), "the cord ends at a module that is not there"},
		{"a missing output", join(patch.Cord{From: at("reed", "low"), To: at("out", "right")}), `filter has no output "low"; it has out`},
		{"a cord from an input", join(patch.Cord{From: at("reed", "in"), To: at("out", "right")}), "filter / in is an input, and a cord starts at an output; it has out"},
		{"a cord from what has no output", join(patch.Cord{From: at("out", "left"), To: at("out", "right")}), "output / left is an input, and a cord starts at an output; it has no outputs"},
		{"a missing end", join(patch.Cord{From: at("reed", "out"), To: at("reed", "sync")}), `filter has no input or control "sync"; it has in, centre, width, level`},
		{"no depth into a control", join(patch.Cord{From: at("reed", "out"), To: at("reed", "level")}), "needs a depth; allowed is -96.0 dB to +96.0 dB, or -1 x to +1 x"},
		{"a depth into an input", join(patch.Cord{From: at("reed", "out"), To: at("out", "right"), Depth: octave}), "a cord into an audio input has no depth"},
		{"a depth in another unit", join(patch.Cord{From: at("reed", "out"), To: at("reed", "level"), Depth: octave}), "depth 1 oct is in a unit that is not offered; allowed is -96.0 dB"},
		{"a depth of the other scale", func(p *patch.Patch) { p.Module("reed").Settings["width"] = patch.Setting{Value: 45, Unit: "Hz"} }, "depth Q -5 is in a unit that is not offered"},
		{"too deep", join(patch.Cord{From: at("reed", "out"), To: at("reed", "level"), Depth: patch.Setting{Value: -1.5, Unit: "x"}}), "depth -1.5 x is out of range; allowed is"},
		{"a depth that is no number", join(patch.Cord{From: at("reed", "out"), To: at("reed", "level"), Depth: patch.Setting{Value: math.NaN(), Unit: "x"}}), "out of range"},
		{"a depth in words", join(patch.Cord{From: at("reed", "out"), To: at("reed", "level"), Depth: patch.Setting{Value: math.NaN(), Text: "lots"}}), `depth "lots" is not understood`},
		{"a cord into a choice", join(patch.Cord{From: at("reed", "out"), To: at("sway", "shape"), Depth: octave}), "no cord may end in shape"},
		{"one cord twice", join(patch.Cord{From: at("voice", "out"), To: at("reed", "in")}), "this cord stands twice"},
		{"too many modules", func(p *patch.Patch) { p.Modules = make([]patch.Module, 10000) }, "the patch has 10000 modules; allowed are 1000"},
		{"too many cords", func(p *patch.Patch) { p.Cords = make([]patch.Cord, 10001) }, "the patch has 10001 cords; allowed are 10000"},
	} {
		p := whole(t)
		c.change(&p)
		err := p.Validate(named{kinds})
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v; want it told as %q", c.name, err, c.says)
		}
	}
}

func TestAllFaultsAreToldAtOnce(t *testing.T) {
	p := whole(t)
	p.Module("sway").Kind = "organ"
	p.Module("reed").Settings["width"] = patch.Setting{Value: 0, Unit: "Hz"}
	p.Module("reed").Settings["colour"] = patch.Setting{}
	p.Module("swell").Settings["attack"] = patch.Setting{Value: -1, Unit: "s"}
	p.Cords[0].From.Module = "mist"
	faults := patch.Faults(p.Validate(kinds))
	// The depth in Q fails too: the width now stands in Hz.
	if len(faults) != 6 {
		t.Errorf("told are %d faults, want 6: %v", len(faults), p.Validate(kinds))
	}
	for _, f := range faults {
		if f.Module == "" || f.Message == "" {
			t.Errorf("a fault without a place: %#v", f)
		}
	}
}

func TestALoopThroughEverythingIsNoFault(t *testing.T) {
	var p patch.Patch
	for i := range 50 {
		p.Modules = append(p.Modules, patch.Module{Name: fmt.Sprint("reed ", i), Kind: "filter"})
		p.Cords = append(p.Cords,
			patch.Cord{From: at(fmt.Sprint("reed ", i), "out"), To: at(fmt.Sprint("reed ", (i+1)%50), "in")},
			patch.Cord{From: at(fmt.Sprint("reed ", i), "out"), To: at(fmt.Sprint("reed ", i), "centre"), Depth: patch.Setting{Value: -10, Unit: "oct"}})
	}
	if err := p.Validate(kinds); err != nil {
		t.Error(err)
	}
}
