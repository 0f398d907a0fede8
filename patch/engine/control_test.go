package engine

import (
	"math"
	"slices"
	"testing"

	"lampblack/patch"
	"lampblack/patch/memory"
)

// moved builds a value at v (in unit), moved by constants with the given depths.
func moved(v float64, unit string, by ...moving) patch.Patch {
	p := build([]string{"v", "value", "out", "output"}, cord{from: "v", out: "out", to: "out", in: "left"})
	p = setting(p, "v", "value", v, unit)
	for i, m := range by {
		name := string(rune('a' + i))
		p.Modules = append(p.Modules, patch.Module{Name: name, Kind: "value", Settings: map[string]patch.Setting{"value": {Value: m.signal}}})
		p.Cords = append(p.Cords, patch.Cord{
			From: patch.Socket{Module: name, Name: "out"}, To: patch.Socket{Module: "v", Name: "value"},
			Depth: patch.Setting{Value: m.depth, Unit: m.unit},
		})
	}
	return p
}

type moving struct {
	signal, depth float64
	unit          string
}

// tapped returns the first n samples of an output without the bound of Block.
func (e *Engine) output(t testing.TB, module, output string, n int) []float64 {
	t.Helper()
	tap := e.Tap(module, output)
	defer e.Untap(tap)
	hear(e, n, 64)
	got := make([]float32, n)
	if _, ok := tap.Read(got); !ok {
		t.Fatal("the tap could not be read")
	}
	wide := make([]float64, n)
	for i, x := range got {
		wide[i] = float64(x)
	}
	return wide
}

func TestAControlIsItsSettingMovedByTheFormula(t *testing.T) {
	tests := []struct {
		name string
		p    patch.Patch
		want float64
	}{
		{"unmoved, bare", moved(3.25, ""), 3.25},
		{"unmoved, Hz", moved(440, "Hz"), 440},
		{"a level of -6 dB is a factor", moved(-6, "dB"), math.Pow(10, -6.0/20)},
		{"a share of 70 % is 0.7", moved(70, "%"), 0.7},
		{"one octave up doubles", moved(440, "Hz", moving{1, 1, "oct"}), 880},
		{"a signal of 0.5 with depth -2 oct halves", moved(440, "Hz", moving{0.5, -2, "oct"}), 220},
		{"octaves add up", moved(440, "Hz", moving{1, 0.25, "oct"}, moving{0.5, 1, "oct"}), 440 * math.Pow(2, 0.75)},
		{"6 dB on a frequency is its factor", moved(440, "Hz", moving{1, 6, "dB"}), 440 * math.Pow(10, 6.0/20)},
		{"-12 dB on a level", moved(6, "dB", moving{1, -12, "dB"}), math.Pow(10, -6.0/20)},
		{"depth 1 x multiplies by the signal", moved(0, "dB", moving{0.3, 1, "x"}), 0.3},
		{"depth 0.8 x: 1 - 0.8 + 0.8 s", moved(0, "dB", moving{0.5, 0.8, "x"}), 0.6},
		{"depth -0.8 x: 1 - 0.8 s", moved(0, "dB", moving{0.5, -0.8, "x"}), 0.6},
		{"Hz add", moved(440, "Hz", moving{-0.5, 100, "Hz"}), 390},
		{"Hz add after the octaves, whatever the order of the cords", moved(440, "Hz", moving{1, 100, "Hz"}, moving{1, 1, "oct"}), 980},
		{"percent points", moved(50, "%", moving{0.5, 40, "%"}), 0.7},
		{"all at once", moved(100, "Hz", moving{1, 50, "Hz"}, moving{0.5, 0.5, "x"}, moving{1, 20, "dB"}, moving{2, 1, "oct"}), 100*4*10*0.75 + 50},
		{"above the range: its end", moved(440, "Hz", moving{1, 10, "oct"}), 20000},
		{"below the range: its end", moved(440, "Hz", moving{-1, 10, "oct"}), 1},
		{"a factor without bounds ends at the range", moved(1, "", moving{1e6, 10, "oct"}, moving{0, 1, "x"}), 0},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			for _, got := range sounding(t, test.p).output(t, "v", "out", 100) {
				// A tap is float32: 6e-8 of its value.
				if math.Abs(got-test.want) > 1e-7*math.Abs(test.want) {
					t.Fatalf("%g, want %g", got, test.want)
				}
			}
		})
	}
}

// A signal of 0 leaves the setting to the bit.
func TestACordOfNothingMovesNothing(t *testing.T) {
	for _, unit := range []string{"oct", "Hz", "dB"} {
		p := moved(0.1, "", moving{0, 1, "oct"})
		p = setting(p, "v", "value", 0.7, "")
		if unit != "oct" {
			p.Cords[1].Depth.Unit = map[string]string{"Hz": "", "dB": "dB"}[unit]
		}
		if got := heard(t, p, 200); got[150] != 0.7 {
			t.Errorf("%s: %v, want 0.7", unit, got[150])
		}
	}
}

func TestASteadyControlSaysSo(t *testing.T) {
	tests := []struct {
		name string
		p    patch.Patch
		want float64
	}{
		{"unmoved", moved(440, "Hz"), 1},
		{"moved by a constant", moved(440, "Hz", moving{1, 1, "oct"}), 1},
		{"moved by a sine", build([]string{"s", "restless", "v", "value", "out", "output"}, cord{"s", "out", "v", "value", patch.Setting{Value: 1}}), 0},
	}
	for _, test := range tests {
		if got := sounding(t, test.p).output(t, "v", "steady", 64)[0]; got != test.want {
			t.Errorf("%s: steady is %g, want %g", test.name, got, test.want)
		}
	}
}

func TestASettingGoesToItsNewValueByAOnePoleAndEndsOnIt(t *testing.T) {
	const tau = SmoothSeconds * testRate
	e := sounding(t, moved(2, ""))
	hear(e, 64, 64)
	if err := e.Set("v", "value", patch.Setting{Value: 3}); err != nil {
		t.Fatal(err)
	}
	got, _ := hear(e, 8000, 64)
	// The step response of a one-pole is 1 - e^(-t/tau): 63.2 % after one time
	// constant (first-order circuit theory).
	for _, n := range []float64{0.5, 1, 2, 3} {
		want := 3 - math.Exp(-n)
		if at := int(n*tau) - 1; math.Abs(got[at]-want) > 1e-6 {
			t.Errorf("after %g time constants it is %.7f, want %.7f", n, got[at], want)
		}
	}
	if got[7999] != 3 {
		t.Errorf("it ended on %v, not on 3", got[7999])
	}
	for i := 1; i < len(got); i++ {
		if got[i] < got[i-1] {
			t.Fatalf("it turned back at sample %d", i)
		}
	}
}

func TestADepthGoesToItsNewValueByAOnePoleAndEndsOnIt(t *testing.T) {
	const tau = SmoothSeconds * testRate
	e := sounding(t, moved(1, "", moving{0.5, 1, ""}))
	hear(e, 64, 64)
	if err := e.SetDepth(patch.Socket{Module: "a", Name: "out"}, patch.Socket{Module: "v", Name: "value"}, patch.Setting{Value: 4}); err != nil {
		t.Fatal(err)
	}
	got, _ := hear(e, 8000, 64)
	if at, want := got[tau-1], 3-1.5/math.E; math.Abs(at-want) > 1e-6 || got[7999] != 3 {
		t.Errorf("after one time constant it is %.7f, at the end %v; want %.7f and 3", at, got[7999], want)
	}
}

// A frequency glides by octaves: half way in time is the geometric mean.
func TestAFrequencyIsSmoothedInOctaves(t *testing.T) {
	e := sounding(t, moved(100, "Hz"))
	hear(e, 64, 64)
	if err := e.Set("v", "value", patch.Setting{Value: 1600, Unit: "Hz"}); err != nil {
		t.Fatal(err)
	}
	half := int(math.Round(math.Ln2 * SmoothSeconds * testRate))
	got := e.output(t, "v", "out", 8000)
	if math.Abs(got[half-1]-400) > 3 {
		t.Errorf("half way it is %g Hz; half way from 100 to 1600 Hz in octaves is 400", got[half-1])
	}
	if got[7999] != 1600 {
		t.Errorf("it ended on %v", got[7999])
	}
}

func TestAGlideDoesNotDependOnTheSizeOfBlocks(t *testing.T) {
	glide := func(size int) []float64 {
		p := moved(0.1, "", moving{0.5, 1, "oct"}, moving{0.25, 1, ""})
		e := sounding(t, p)
		hear(e, 64, 64)
		if err := e.Set("v", "value", patch.Setting{Value: 0.9}); err != nil {
			t.Fatal(err)
		}
		if err := e.SetDepth(patch.Socket{Module: "a", Name: "out"}, patch.Socket{Module: "v", Name: "value"}, patch.Setting{Value: -2, Unit: "oct"}); err != nil {
			t.Fatal(err)
		}
		got, _ := hear(e, 6000, size)
		return got
	}
	want := glide(64)
	if end := 0.9*0.5 + 0.25; want[5999] != end {
		t.Fatalf("it ended on %v, want %v", want[5999], end)
	}
	for _, size := range []int{1, 7, 1000} {
		if i := differ(glide(size), want); i >= 0 {
			t.Errorf("blocks of %d: another value from sample %d on", size, i)
		}
	}
}

func TestAChoiceJumps(t *testing.T) {
	e := sounding(t, build([]string{"c", "choice", "out", "output"}, cord{from: "c", out: "out", to: "out", in: "left"}))
	hear(e, 64, 64)
	if err := e.Set("c", "choice", patch.Setting{Value: 3}); err != nil {
		t.Fatal(err)
	}
	if got, _ := hear(e, 1, 1); got[0] != 3 {
		t.Errorf("the first sample is %g, want 3", got[0])
	}
}

func TestASettingInAnotherUnitIsThereAtOnce(t *testing.T) {
	e := sounding(t, moved(440, "Hz"))
	hear(e, 64, 64)
	if err := e.Set("v", "value", patch.Setting{Value: 25, Unit: "%"}); err != nil {
		t.Fatal(err)
	}
	if got, _ := hear(e, 1, 1); got[0] != 0.25 {
		t.Errorf("the first sample is %g, want 0.25", got[0])
	}
}

func TestWhatCannotBeSetIsRefused(t *testing.T) {
	e := sounding(t, moved(440, "Hz", moving{1, 100, "Hz"}))
	from, to := patch.Socket{Module: "a", Name: "out"}, patch.Socket{Module: "v", Name: "value"}
	tests := []struct {
		name string
		err  error
	}{
		{"an unknown module", e.Set("w", "value", patch.Setting{})},
		{"an unknown control", e.Set("v", "level", patch.Setting{})},
		{"an unknown unit", e.Set("v", "value", patch.Setting{Unit: "m"})},
		{"a unit in which a cord means nothing", e.Set("v", "value", patch.Setting{Unit: "%"})},
		{"a value that is no number", e.Set("v", "value", patch.Setting{Value: math.NaN(), Unit: "Hz"})},
		{"a depth without end", e.SetDepth(from, to, patch.Setting{Value: math.Inf(1), Unit: "Hz"})},
		{"the depth of no cord", e.SetDepth(to, to, patch.Setting{Unit: "oct"})},
		{"a depth in an unknown unit", e.SetDepth(from, to, patch.Setting{Unit: "%"})},
	}
	for _, test := range tests {
		if test.err == nil {
			t.Errorf("%s was accepted", test.name)
		}
	}
	if got := e.output(t, "v", "out", 64)[63]; got != 540 {
		t.Errorf("the control moved to %g, though all was refused", got)
	}
}

// What a unit goes with is asked of the depth as it was set last.
func TestAUnitGoesWithTheDepthThatWasSetLast(t *testing.T) {
	e := sounding(t, moved(440, "Hz", moving{1, 100, "Hz"}))
	if err := e.SetDepth(patch.Socket{Module: "a", Name: "out"}, patch.Socket{Module: "v", Name: "value"}, patch.Setting{Value: 1, Unit: "oct"}); err != nil {
		t.Fatal(err)
	}
	if err := e.Set("v", "value", patch.Setting{Value: 3}); err != nil {
		t.Errorf("moved in octaves, a bare number was refused: %v", err)
	}
	if got, _ := hear(e, 64, 64); got[63] != 6 {
		t.Errorf("it stands at %g; want 3 and an octave, 6", got[63])
	}
}

func TestTheSweptRangeIsWhereMovingHasBeen(t *testing.T) {
	p := build([]string{"s", "restless", "v", "value", "out", "output"},
		cord{"s", "out", "v", "value", patch.Setting{Value: 1, Unit: "oct"}})
	p = setting(p, "v", "value", 1000, "Hz")
	e := sounding(t, p)
	if _, _, _, ok := e.Swept("v", "value"); ok {
		t.Error("there is a range before the first block")
	}
	hear(e, 480, 64) // ten periods of 1 kHz, which hit both peaks
	lo, _, hi, ok := e.Swept("v", "value")
	if !ok || math.Abs(lo-500) > 1e-6 || math.Abs(hi-2000) > 1e-6 {
		t.Errorf("swept %g to %g Hz (%t), want 500 to 2000", lo, hi, ok)
	}
	if e.Limited("v", "value") {
		t.Error("the control counts as limited")
	}
	if err := e.Set("v", "value", patch.Setting{Value: 15000, Unit: "Hz"}); err != nil {
		t.Fatal(err)
	}
	hear(e, 4800, 64)
	if _, _, hi, _ := e.Swept("v", "value"); hi != 20000 || !e.Limited("v", "value") {
		t.Errorf("highest is %g Hz, limited %t; want the end of the range, 20000, and true", hi, e.Limited("v", "value"))
	}
	if err := e.SetDepth(patch.Socket{Module: "s", Name: "out"}, patch.Socket{Module: "v", Name: "value"}, patch.Setting{Value: 0, Unit: "oct"}); err != nil {
		t.Fatal(err)
	}
	hear(e, 4800, 64)
	e.ResetSwept()
	hear(e, 64, 64)
	if lo, now, hi, _ := e.Swept("v", "value"); lo != now || hi != now || e.Limited("v", "value") {
		t.Errorf("after the reset it is %g, %g, %g, limited %t; want one value, and false", lo, now, hi, e.Limited("v", "value"))
	}
}

// What stands still is not computed again; it must be told again all the same.
func TestACordThatStandsStillBeyondTheRangeIsToldAfterAReset(t *testing.T) {
	e := sounding(t, moved(15000, "Hz", moving{1, 1, "oct"}))
	for range 2 {
		hear(e, 640, 64)
		if lo, now, hi, _ := e.Swept("v", "value"); !e.Limited("v", "value") || lo != 20000 || now != 20000 || hi != 20000 {
			t.Errorf("limited %t, swept %g, %g, %g; want true, 20000 Hz", e.Limited("v", "value"), lo, now, hi)
		}
		e.ResetSwept()
	}
}

// A control whose cords stand still follows its setting, its depths, and a cord
// that moves after all.
func TestAControlThatStoodStillMovesAgain(t *testing.T) {
	from, to := patch.Socket{Module: "a", Name: "out"}, patch.Socket{Module: "v", Name: "value"}
	e := sounding(t, moved(440, "Hz", moving{1, 1, "oct"}))
	steps := []struct {
		edit func() error
		want float64
	}{
		{func() error { return nil }, 880},
		{func() error { return e.Set("v", "value", patch.Setting{Value: 100, Unit: "Hz"}) }, 200},
		{func() error { return e.SetDepth(from, to, patch.Setting{Value: 2, Unit: "oct"}) }, 400},
		{func() error { return e.SetDepth(from, to, patch.Setting{Value: 50, Unit: "Hz"}) }, 150},
		{func() error { return e.Set("a", "value", patch.Setting{Value: 2}) }, 200},
	}
	for i, step := range steps {
		if err := step.edit(); err != nil {
			t.Fatal(err)
		}
		if got := e.output(t, "v", "out", 9600)[9599]; got != step.want {
			t.Errorf("step %d: it stands at %g, want %g", i, got, step.want)
		}
		hear(e, 37, 7) // blocks of other lengths in between
	}
}

// A trigger stands for one sample; before and behind it nothing moves.
func TestAControlThatMovedStandsStillAgain(t *testing.T) {
	p := build([]string{"n", "note", "v", "value", "out", "output"},
		cord{"n", "trigger", "v", "value", patch.Setting{Value: 1}},
		cord{from: "v", out: "out", to: "out", in: "left"})
	e := sounding(t, setting(p, "v", "value", 0.25, ""))
	hear(e, 128, 64)
	e.NoteOn(0, 1)
	left, _ := hear(e, 256, 64)
	if got := changes(left); !slices.Equal(got, []string{"0:1.25", "1:0.25"}) {
		t.Errorf("it goes %v; want 1.25 for one sample", got)
	}
}

// A setting in another unit is there at once, also where cords stand still.
func TestASettingInAnotherUnitIsMovedAtOnce(t *testing.T) {
	e := sounding(t, moved(440, "Hz", moving{1, 1, "oct"}))
	hear(e, 128, 64)
	if err := e.Set("v", "value", patch.Setting{Value: 3}); err != nil {
		t.Fatal(err)
	}
	if got, _ := hear(e, 64, 64); got[0] != 6 {
		t.Errorf("it stands at %g; want 3 and an octave, 6", got[0])
	}
}

// A glide ends on its target without a step: the last one is below -100 dB of
// the way, which no ear and no instrument here can tell.
func TestTheEndOfAGlideIsNoStep(t *testing.T) {
	for _, unit := range []string{"", "dB", "%"} {
		e := sounding(t, moved(0, unit))
		hear(e, 128, 64)
		if err := e.Set("v", "value", patch.Setting{Value: 1, Unit: unit}); err != nil {
			t.Fatal(err)
		}
		got, _ := hear(e, 8000, 64)
		way, last := got[7999]-got[0], 0.0
		for i := 1; i < len(got); i++ {
			if step := got[i] - got[i-1]; step != 0 {
				last = step
			}
		}
		if math.Abs(last/way) > 1e-5 {
			t.Errorf("%q: the last step is %.1e of the way; want 1e-5 at most", unit, last/way)
		}
	}
}

// A level in dB is told in dB, and its lowest end is no limit: there it is off.
func TestTheSweptRangeOfALevelIsInDecibels(t *testing.T) {
	e := sounding(t, moved(6, "dB", moving{0.5, 1, "x"}))
	hear(e, 64, 64)
	if lo, now, hi, ok := e.Swept("v", "value"); !ok || math.Abs(now-(6-6.0206)) > 1e-4 || lo != hi {
		t.Errorf("swept %g, %g, %g dB (%t), want -0.0206", lo, now, hi, ok)
	}
	e = sounding(t, moved(6, "dB", moving{0, 1, "x"}))
	hear(e, 64, 64)
	if e.Limited("v", "value") {
		t.Error("a level that is turned off counts as limited")
	}
}

// A choice that a cord moves changes on its exact sample, though a Sound takes it
// as standing still throughout a block; in a loop as well.
func TestACordMovesAChoiceToTheSample(t *testing.T) {
	for name, p := range map[string]patch.Patch{
		"alone": build([]string{"n", "note", "v", "choice", "out", "output"},
			cord{"n", "gate", "v", "choice", patch.Setting{Value: 2, Unit: "steps"}}, cord{from: "v", out: "out", to: "out", in: "left"}),
		"in a loop": build([]string{"n", "note", "v", "choice", "h", "half", "out", "output"},
			cord{"n", "gate", "v", "choice", patch.Setting{Value: 2, Unit: "steps"}}, cord{from: "v", out: "out", to: "out", in: "left"},
			cord{"v", "out", "h", "in", patch.Setting{}}, cord{"h", "out", "v", "choice", patch.Setting{Value: 0.1, Unit: "steps"}}),
	} {
		m := memory.Memory{Length: 0.01, Notes: []memory.Note{{At: 101.0 / testRate, For: 30.0 / testRate}}}
		r, err := Render(p, m, RenderOptions{Rate: testRate, Seconds: 400.0 / testRate, Kinds: testKinds})
		if err != nil {
			t.Fatal(err)
		}
		for i, got := range r.Left[:300] {
			want := 0.0
			if i >= 101 && i < 131 {
				want = 2
			}
			if got != want {
				t.Fatalf("%s: sample %d is choice %g, want %g", name, i, got, want)
			}
		}
	}
}
