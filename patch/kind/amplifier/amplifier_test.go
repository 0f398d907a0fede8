package amplifier

import (
	"math"
	"testing"

	"lampblack/patch/kind/rig"
)

// (1 + m cos b) sin a = sin a + m/2 sin(a+b) + m/2 sin(a-b): each sideband is
// m/2 of the carrier; the peak is 1 + m.
func TestModulationMakesTheTextbookSidebands(t *testing.T) {
	for _, c := range []struct{ percent, sideband, peak float64 }{
		{50, -12.041, 3.522}, {80, -7.959, 5.105}, {100, -6.021, 6.021},
	} {
		r := rig.New(Kind()).Feed("in", rig.Sine(1000)).Feed("modulation", rig.Sine(23)).Set("depth", c.percent, "%")
		x := r.Out("out", 48000)
		lines := rig.Lines(x)
		for _, hz := range []int{977, 1023} {
			if got := rig.DB(lines[hz] / lines[1000]); math.Abs(got-c.sideband) > 0.001 {
				t.Errorf("depth %g %%: sideband at %d Hz is %.3f dB re the carrier; want %.3f", c.percent, hz, got, c.sideband)
			}
		}
		if math.Abs(lines[1000]-1) > 1e-6 {
			t.Errorf("depth %g %%: the carrier is %.6f; want 1", c.percent, lines[1000])
		}
		for hz, a := range lines {
			if hz != 977 && hz != 1000 && hz != 1023 && a > 1e-9 {
				t.Fatalf("depth %g %%: a line of %g at %d Hz", c.percent, a, hz)
			}
		}
		peak := 0.0
		for _, y := range x {
			peak = max(peak, math.Abs(y))
		}
		if got := rig.DB(peak); math.Abs(got-c.peak) > 0.05 {
			t.Errorf("depth %g %%: peak %.3f dB; want %.3f", c.percent, got, c.peak)
		}
	}
}

func TestLevelIsExactAndEndsInSilence(t *testing.T) {
	for db, want := range map[float64]float64{0: 1, 24: 15.848932, -6: 0.501187, -20: 0.1, -80: 1e-4, -96: 0} {
		y := rig.New(Kind()).Feed("in", func(int) float64 { return 1 }).Set("level", db, "dB").Out("out", 64)
		if math.Abs(y[63]-want) > 1e-6*want {
			t.Errorf("level %g dB gives %g; want %g", db, y[63], want)
		}
	}
}

func BenchmarkAmplifier(b *testing.B) {
	in := rig.Sine(440)
	b.Run("level", rig.New(Kind()).Feed("in", in).Bench)
	b.Run("modulated", rig.New(Kind()).Feed("in", in).Feed("modulation", rig.Sine(25)).Set("depth", 80, "%").Bench)
	b.Run("level moved", rig.New(Kind()).Feed("in", in).Move("level", "dB", func(n int) float64 { return -float64(n % 60) }).Bench)
}
