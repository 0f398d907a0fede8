package engine

import (
	"math"
	"testing"

	"lampblack/patch"
)

// The kind "value" puts out what its control stands at: the control's tap must
// read what the output's does, sample by sample.
func TestAControlsTapIsWhatTheModuleIsGiven(t *testing.T) {
	for _, c := range []struct {
		name string
		p    patch.Patch
	}{
		{"a setting that stands still", moved(440, "Hz")},
		{"moved by a voltage that stands still", moved(440, "Hz", moving{1, 1, "oct"})},
		{"moved at every sample", countingFrequency()},
	} {
		for _, size := range []int{1, 7, 64, 333} {
			e := sounding(t, c.p)
			value, out := e.TapControl("v", "value"), e.Tap("v", "out")
			hear(e, 2000, size)
			a, _ := reading(t, value, 1500)
			b, _ := reading(t, out, 1500)
			for i := range a {
				if a[i] != b[i] {
					t.Fatalf("%s, blocks of %d: the control reads %g where the module was given %g", c.name, size, a[i], b[i])
				}
			}
			if a[0] == 0 {
				t.Errorf("%s: silence", c.name)
			}
		}
	}
}

// countingFrequency moves a frequency of 440 Hz up by 1 Hz a sample.
func countingFrequency() patch.Patch {
	p := moved(440, "Hz")
	p.Modules = append(p.Modules, patch.Module{Name: "c", Kind: "count"})
	p.Cords = append(p.Cords, patch.Cord{
		From: patch.Socket{Module: "c", Name: "out"}, To: patch.Socket{Module: "v", Name: "value"},
		Depth: patch.Setting{Value: 1, Unit: "Hz"},
	})
	return p
}

func TestAControlsTapStaysThroughSwaps(t *testing.T) {
	e := New(testRate)
	tap := e.TapControl("v", "value") // before there is any graph
	hear(e, 128, 64)
	if got, end := reading(t, tap, 128); got[0] != 0 || end != 128 {
		t.Errorf("before there is a control it reads %g up to %d", got[0], end)
	}
	e.Swap(compile(t, moved(440, "Hz")))
	hear(e, 128, 64)
	if got, _ := reading(t, tap, 64); got[0] != 440 {
		t.Errorf("it reads %g, the setting is 440 Hz", got[0])
	}
	if e.TapControl("v", "value") != tap || e.Tap("v", "value") == tap {
		t.Error("a control's tap is shared with the same control, and with no output of its name")
	}
	e.Swap(nil)
	hear(e, fadeSamples+128, 64)
	if got, _ := reading(t, tap, 64); got[0] != 0 {
		t.Errorf("of a control that is gone it reads %g", got[0])
	}
}

// A level of +24 dB is a factor of 15.849 (10^(24/20)), 0 to 1 is 0 to 100 %.
func TestInUnitUndoesWhatTheEngineComputesWith(t *testing.T) {
	for _, c := range []struct {
		unit     string
		v, shown float64
	}{{"dB", math.Pow(10, 24.0/20), 24}, {"%", 0.7, 70}, {"Hz", 440, 440}, {"", -3, -3}} {
		if got := InUnit(c.unit, c.v); math.Abs(got-c.shown) > 1e-12 {
			t.Errorf("%g is %g %s, want %g", c.v, got, c.unit, c.shown)
		}
	}
}

func TestTappingControlsAllocatesNothingOnTheSoundSide(t *testing.T) {
	e := sounding(t, countingFrequency())
	left := make([]float64, 64)
	e.TapControl("v", "value")
	e.Block(left, left)
	if n := testing.AllocsPerRun(200, func() { e.Block(left, left) }); n > 0 {
		t.Errorf("a block allocates %g times", n)
	}
}
