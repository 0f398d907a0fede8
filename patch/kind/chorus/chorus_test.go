package chorus

import (
	"math"
	"testing"

	"lampblack/patch/kind/rig"
)

func still(ms float64) *rig.Rig {
	return rig.New(Kind()).Set("delay", ms/1000, "s").Set("depth", 0, "s")
}

// level is that of a sine of hz at the left output, in dB.
func level(r *rig.Rig, hz float64) float64 {
	r.Feed("left", rig.Sine(hz)).Run(48000)
	return rig.DB(rig.RMS(r.Out("left", 48000)) / math.Sqrt(0.5))
}

// x + g x(t - T): 1 ms has notches at 500, 1500, 2500 Hz and peaks at 1 and 2
// kHz. g = 0.5 +3.522/-6.021 dB, 0.9 +5.575/-20.
func TestNotchesAndPeaks(t *testing.T) {
	for _, c := range []struct{ mix, peak, notch float64 }{{25, 3.522, -6.021}, {45, 5.575, -20}, {50, 6.0206, -200}} {
		for _, hz := range []float64{500, 1000, 1500, 2000, 2500} {
			want := c.notch
			if math.Mod(hz, 1000) == 0 {
				want = c.peak
			}
			if got := level(still(1).Set("mix", c.mix, "%"), hz); math.Abs(got-want) > 0.002 && !(want < -100 && got < -100) {
				t.Errorf("mix %g %%: %g Hz is at %.3f dB; want %.3f", c.mix, hz, got, want)
			}
		}
	}
}

// The late sound alone with feedback g: 1/(1 - g) at k/T, 1/(1 + g) between; a
// feedback below 0 turns them about.
func TestFeedbackSharpensAndTurnsThePeaks(t *testing.T) {
	for _, g := range []float64{0.7, -0.7, 0.9} {
		for _, hz := range []float64{1000, 1500, 2000} {
			want := -20 * math.Log10(1-g)
			if math.Mod(hz, 1000) != 0 {
				want = -20 * math.Log10(1+g)
			}
			if got := level(still(1).Set("mix", 100, "%").Set("feedback", 100*g, "%"), hz); math.Abs(got-want) > 0.002 {
				t.Errorf("feedback %g: %g Hz is at %.3f dB; want %.3f", g, hz, got, want)
			}
		}
	}
}

// The late sound is the sound at t - T, T = delay + depth sin(...), on the right
// as far behind as the phase says.
func TestTheTimeWaversAsTheFormulaSays(t *testing.T) {
	r := rig.New(Kind()).Set("delay", 0.01, "s").Set("depth", 0.001, "s").Set("rate", 5, "Hz").Set("mix", 100, "%").Feed("left", rig.Sine(1000))
	out := r.Run(48000)
	for n := 2000; n < 48000; n++ {
		for side, phase := range []float64{0, -0.25} {
			now := float64(n) / 48000
			late := 0.01 + 0.001*math.Sin(2*math.Pi*(5*now+phase))
			if want := math.Sin(2 * math.Pi * 1000 * (now - late)); math.Abs(out[side][n]-want) > 1e-4 {
				t.Fatalf("side %d, sample %d: %g; want %g", side, n, out[side][n], want)
			}
		}
	}
}

// Three voices a third of a cycle apart, at the loudness of one.
func TestVoicesShareTheCycle(t *testing.T) {
	r := rig.New(Kind()).Set("delay", 0.02, "s").Set("depth", 0.001, "s").Set("rate", 2, "Hz").Set("voices", 3, "").Set("mix", 100, "%").Feed("left", rig.Sine(440))
	out := r.Out("left", 48000)
	for n := 4000; n < 48000; n++ {
		now, want := float64(n)/48000, 0.0
		for k := range 3 {
			late := 0.02 + 0.001*math.Sin(2*math.Pi*(2*now+float64(k)/3))
			want += math.Sin(2*math.Pi*440*(now-late)) / math.Sqrt(3)
		}
		if math.Abs(out[n]-want) > 1e-4 {
			t.Fatalf("sample %d is %g; want %g", n, out[n], want)
		}
	}
}

// Jumps as the engine smooths them (5 ms): a click of -60 dB would show as a
// second difference of 0.001 in a tone that has 0.0007 of itself.
func TestJumpsDoNotClick(t *testing.T) {
	for _, c := range []struct {
		control, unit string
		from, to      float64
	}{{"delay", "s", 0.002, 0.03}, {"delay", "s", 0.03, 0.0005}, {"depth", "s", 0, 0.005}, {"phase", "deg", 0, 300}, {"feedback", "%", 0, 60}} {
		r := rig.New(Kind()).Set("delay", 0.008, "s").Set("depth", 0.001, "s").Feed("left", rig.Sine(200))
		r.Move(c.control, c.unit, func(n int) float64 {
			if n < 24000 {
				return c.from
			}
			return c.from + (c.to-c.from)*(1-math.Exp(-float64(n-24000)/240))
		})
		r.Run(23000)
		for side, y := range r.Run(12000) {
			for i := 2; i < len(y); i++ {
				// Both of 1, or 2.5 with feedback; an octave up 4 times the bend.
				if d := math.Abs(y[i] - 2*y[i-1] + y[i-2]); d > 5*math.Pow(2*math.Pi*200/48000, 2)+0.001 {
					t.Fatalf("%s to %g: side %d, sample %d: the second difference is %g", c.control, c.to, side, i-1000, d)
				}
			}
		}
	}
}

func TestItForgetsWhatIsNoNumberAndEndsInSilence(t *testing.T) {
	r := rig.New(Kind()).Set("feedback", 80, "%").Feed("left", func(n int) float64 {
		return map[int]float64{5: math.NaN(), 6: math.Inf(1), 90: 0.3}[n]
	})
	out := r.Run(240000)
	for side, y := range out {
		for n, v := range y {
			if !(math.Abs(v) <= 5000) {
				t.Fatalf("side %d, sample %d is %g", side, n, v)
			}
		}
		if y[len(y)-1] != 0 {
			t.Errorf("side %d is still at %g after 5 s", side, y[len(y)-1])
		}
	}
	if !r.Clamped {
		t.Error("it did not say that it limited its input")
	}
}

func BenchmarkChorus(b *testing.B) {
	in := func() *rig.Rig { return rig.New(Kind()).Feed("left", rig.Sine(440)) }
	b.Run("one voice", in().Bench)
	b.Run("three voices", in().Set("voices", 3, "").Bench)
	b.Run("still", in().Set("depth", 0, "s").Bench)
	b.Run("flanger", in().Set("delay", 0.001, "s").Set("depth", 0.0008, "s").Bench)
}

// A depth larger than the delay is taken as the delay: the time touches 0 (a sample)
// and swings evenly.
func TestTheDepthIsNeverLargerThanTheDelay(t *testing.T) {
	r := rig.New(Kind()).Set("delay", 0.003, "s").Set("depth", 0.02, "s").Set("rate", 1, "Hz").Set("mix", 100, "%").Feed("left", rig.Sine(440))
	out := r.Out("left", 48000)
	for n := 2000; n < 48000; n++ {
		late := 144 + 143*math.Sin(2*math.Pi*float64(n)/48000)
		if want := math.Sin(2 * math.Pi * 440 * (float64(n) - late) / 48000); math.Abs(out[n]-want) > 2e-2 { // next to the newest sample the sinc has no room
			t.Fatalf("sample %d is %g; want %g", n, out[n], want)
		}
	}
}
