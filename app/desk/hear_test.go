package desk

import (
	"testing"

	"lampblack/patch"
)

// What can go to its new value gradually is set while it sounds; what can't (a
// choice, a whole number, another unit, another table) is faded to.
func TestWhatWouldJumpIsFadedTo(t *testing.T) {
	with := func(kind, control string, v patch.Setting) *patch.Patch {
		return &patch.Patch{Modules: []patch.Module{{Name: "m", Kind: kind, Settings: map[string]patch.Setting{control: v}}}}
	}
	for _, c := range []struct {
		what, kind, control string
		before, after       patch.Setting
		set                 bool
	}{
		{"a frequency", "oscillator", "frequency", patch.Setting{Value: 440, Unit: "Hz"}, patch.Setting{Value: 220, Unit: "Hz"}, true},
		{"a shape", "oscillator", "shape", patch.Setting{Value: 0}, patch.Setting{Value: 2}, false},
		{"a number of bands", "vocoder", "bands", patch.Setting{Value: 8}, patch.Setting{Value: 16}, false},
		{"a width in another unit", "filter", "width", patch.Setting{Value: 1000, Unit: "Hz"}, patch.Setting{Value: 1, Unit: "Q"}, false},
		{"voices", "memory", "voices", patch.Setting{Value: 1}, patch.Setting{Value: 4}, false},
	} {
		if got := sameStructure(with(c.kind, c.control, c.before), with(c.kind, c.control, c.after)); got != c.set {
			t.Errorf("%s: set while it sounds is %v, want %v", c.what, got, c.set)
		}
	}
	drawn := with("partials", "tilt", patch.Setting{Unit: "dB"})
	again := drawn.Clone()
	again.Modules[0].Rows = [][]float64{{1, 0}}
	if sameStructure(drawn, &again) {
		t.Error("another table is not faded to")
	}
}
