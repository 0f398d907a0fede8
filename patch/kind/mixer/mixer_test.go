package mixer

import (
	"math"
	"strconv"
	"testing"

	"lampblack/patch/kind/rig"
)

func constant(x float64) rig.Wave { return func(int) float64 { return x } }

// 20 log10 2 = 6.02 dB; the levels are factors 10^(dB/20).
func TestSumOfLevels(t *testing.T) {
	r := rig.New(Kind()).Feed("1", constant(1)).Feed("2", constant(1))
	if got := rig.DB(r.Out("out", 64)[0]); math.Abs(got-6.0206) > 1e-4 {
		t.Errorf("two equal signals add to %.4f dB; want 6.0206", got)
	}
	r = rig.New(Kind()).Feed("1", constant(1)).Feed("3", constant(-0.5)).Feed("4", constant(2))
	r.Set("level 1", -20, "dB").Set("level 3", 6, "dB").Set("level 4", -96, "dB")
	if got, want := r.Out("out", 64)[0], 0.1-0.5*math.Pow(10, 0.3); math.Abs(got-want) > 1e-12 {
		t.Errorf("sum is %g; want %g, with input 4 exactly off", got, want)
	}
}

// Signals that have nothing to do with each other add as powers.
func TestUnrelatedTonesAddAsPowers(t *testing.T) {
	x := rig.New(Kind()).Feed("1", rig.Sine(440)).Feed("2", rig.Sine(710)).Out("out", 48000)
	if got := rig.DB(rig.RMS(x)); math.Abs(got-0) > 0.001 { // each -3.01 dB
		t.Errorf("two sines of different pitch have an rms of %.3f dB; want 0.000", got)
	}
}

func TestMovedLevel(t *testing.T) {
	r := rig.New(Kind()).Feed("2", constant(1)).Move("level 2", "dB", func(n int) float64 { return -float64(n) / 10 })
	for n, y := range r.Out("out", 900) {
		if want := math.Pow(10, -float64(n)/200); math.Abs(y/want-1) > 1e-9 {
			t.Fatalf("sample %d is %g; want %g", n, y, want)
		}
	}
}

// Powers of unrelated signals add: 10 log 16 = 12.04 dB.
func TestSixteenInputsAdd(t *testing.T) {
	r := rig.New(Kind())
	for i := 1; i <= Inputs; i++ {
		r.Feed(strconv.Itoa(i), rig.Sine(float64(100*i)))
	}
	if got := rig.DB(rig.RMS(r.Out("out", 48000))) + 3.0103; math.Abs(got-12.0412) > 0.001 {
		t.Errorf("16 sines of different pitch add to %.4f dB; want 12.0412", got)
	}
	if k := Kind(); k.Grows != 4 || len(k.Inputs) != 16 || len(k.Controls) != 16 {
		t.Errorf("a new mixer shows %d of %d inputs, with %d levels", k.Grows, len(k.Inputs), len(k.Controls))
	}
}

func BenchmarkMixer(b *testing.B) {
	b.Run("4 joined", func(b *testing.B) { feed(4).Bench(b) })
	b.Run("16 joined", func(b *testing.B) { feed(16).Bench(b) })
	b.Run("none joined", func(b *testing.B) { feed(0).Bench(b) })
}

func feed(n int) *rig.Rig {
	r := rig.New(Kind())
	for i := 1; i <= n; i++ {
		r.Feed(strconv.Itoa(i), constant(0.1))
	}
	return r
}
