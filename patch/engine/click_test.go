package engine

import (
	"math"
	"testing"

	"lampblack/patch"
)

// voice is a sine of 200 Hz through a low-pass and an amplifier of the project's
// own kinds, with what may move them beside.
func voice(moves ...cord) patch.Patch {
	p := build([]string{"memory", "memory", "osc", "oscillator", "filter", "filter", "env", "envelope", "slow", "slow", "amp", "amplifier", "out", "output"},
		append([]cord{
			{from: "osc", out: "out", to: "filter", in: "in"},
			{from: "filter", out: "low", to: "amp", in: "in"},
			{from: "amp", out: "out", to: "out", in: "left"},
		}, moves...)...)
	p = setting(setting(p, "out", "level", 0, "dB"), "osc", "frequency", 200, "Hz")
	return setting(p, "slow", "rate", 3, "Hz")
}

// As TestNothingClicks, with the project's own kinds: the limit is -60 dB re full
// scale above 4 kHz, where the sound itself has nothing.
func TestNothingThatIsDoneToAPatchClicks(t *testing.T) {
	const limit = -60
	set := func(module, control string, value float64, unit string) func(*Engine) error {
		return func(e *Engine) error { return e.Set(module, control, patch.Setting{Value: value, Unit: unit}) }
	}
	swap := func(p patch.Patch) func(*Engine) error {
		return func(e *Engine) error { e.Swap(compileKind(t, p)); return nil }
	}
	note := func(do func(*Engine)) func(*Engine) error {
		return func(e *Engine) error { do(e); return nil }
	}
	depth := func(value float64) func(*Engine) error {
		return func(e *Engine) error {
			return e.SetDepth(patch.Socket{Module: "slow", Name: "out"}, patch.Socket{Module: "amp", Name: "level"}, patch.Setting{Value: value, Unit: "x"})
		}
	}
	plain := voice()
	swaying := voice(cord{"slow", "out", "amp", "level", patch.Setting{Value: 0.5, Unit: "x"}})
	swayingInDecibels := voice(cord{"slow", "out", "amp", "level", patch.Setting{Value: 6, Unit: "dB"}})
	played := voice(cord{"memory", "pitch", "osc", "frequency", patch.Setting{Value: 1, Unit: "oct"}},
		cord{"env", "out", "amp", "level", patch.Setting{Value: 1, Unit: "x"}})
	unheard := plain.Clone()
	unheard.Cords = unheard.Cords[:2]
	more := plain.Clone()
	more.Modules = append(more.Modules, patch.Module{Name: "more", Kind: "noise"})
	tests := []struct {
		name string
		p    patch.Patch
		edit func(*Engine) error
	}{
		{"a level falls by 20 dB", plain, set("amp", "level", -20, "dB")},
		{"a level is turned off", plain, set("amp", "level", -96, "dB")},
		{"the output is turned off", plain, set("out", "level", -96, "dB")},
		{"a frequency jumps by an octave", plain, set("osc", "frequency", 400, "Hz")},
		{"a cutoff falls", plain, set("filter", "cutoff", 200, "Hz")},
		{"a cutoff rises", plain, set("filter", "cutoff", 4000, "Hz")},
		{"a width narrows", plain, set("filter", "width", 100, "Hz")},
		{"a width is written as Q", plain, set("filter", "width", 20, "Q")},
		{"a slow oscillator's phase jumps", swaying, set("slow", "phase", 90, "deg")},
		{"a depth doubles", swaying, depth(1)},
		{"a depth is written in dB, as a new graph", swaying, swap(swayingInDecibels)},
		{"a cord is joined", plain, swap(swaying)},
		{"a cord is taken away", swaying, swap(plain)},
		{"the cord to the output is taken away", plain, swap(unheard)},
		{"the cord to the output is joined", unheard, swap(plain)},
		{"a module is added", plain, swap(more)},
		{"a module is taken away", more, swap(plain)},
		{"the note ends", played, note(func(e *Engine) { e.NoteOff(0) })},
		{"another note begins", played, note(func(e *Engine) { e.NoteOn(1, 1) })},
		{"all keys are let go", played, note((*Engine).AllOff)},
	}
	for _, test := range tests {
		worst := math.Inf(-1)
		for _, at := range []int{0, 13, 29, 37, 60} { // somewhere in the cycle, and in a block
			e := New(testRate)
			e.Swap(compileKind(t, test.p))
			e.NoteOn(0, 1)
			hear(e, 48000, 64)
			before, _ := hear(e, 4096+at, 64)
			if err := test.edit(e); err != nil {
				t.Fatal(err)
			}
			after, _ := hear(e, 8192, 64)
			worst = max(worst, click(append(before, after...)))
		}
		t.Logf("%s: %.1f dB", test.name, worst)
		if worst > limit {
			t.Errorf("%s: a click of %.1f dB re full scale above 4 kHz; want %d", test.name, worst, limit)
		}
	}
}
