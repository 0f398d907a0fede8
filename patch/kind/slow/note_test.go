package slow

import (
	"math"
	"testing"

	"lampblack/patch/dsp/approx"
	"lampblack/patch/dsp/wave"
	"lampblack/patch/kind/rig"
)

// knock is up for ten samples at each of the places.
func knock(places ...int) rig.Wave {
	return func(n int) float64 {
		for _, at := range places {
			if n >= at && n < at+10 {
				return 1
			}
		}
		return 0
	}
}

// The loop as it stood before notes could do anything, kept to hold today's to:
// settings that were written then must give the same bits.
func TestOldSettingsGiveTheOldBits(t *testing.T) {
	for shape, name := range []string{"sine", "triangle", "saw", "pulse"} {
		rate := func(n int) float64 { return 3 + 2*math.Sin(float64(n)*0.001) }
		x := rig.New(Kind()).Choose("shape", name).Move("rate", "Hz", rate).Set("phase", 77, "deg").
			Set("width", 23, "%").Feed("restart", knock(30000, 31000)).Out("out", 96000)
		phase, up, shift := 0.0, false, 77.0
		for n, y := range x {
			now := knock(30000, 31000)(n) > 0.5
			if now && !up {
				phase = 0
			}
			up = now
			p := phase + float64(shift*(1.0/360))
			if p >= 1 {
				p--
			}
			want := []float64{approx.Sine(p), wave.Triangle(p), wave.Saw(p), wave.Pulse(p, 0.23)}[shape]
			if math.Float64bits(y) != math.Float64bits(want) {
				t.Fatalf("%s: sample %d is %g; it used to be %g", name, n, y, want)
			}
			if phase += float64(rate(n) * (1.0 / 48000)); phase >= 1 {
				phase--
			}
		}
	}
}

// The definition in the help text, by another way: the rise and the fall are
// straight lines between their ends.
func TestSlopeIsItsDefinition(t *testing.T) {
	for _, width := range []float64{1, 20, 50, 99} {
		w := width / 100
		x := rig.New(Kind()).Choose("shape", "slope").Set("rate", 10, "Hz").Set("width", width, "%").Out("out", 9600)
		for n, y := range x {
			p := math.Mod(float64(n)/4800+w/2, 1) // from the bottom
			want := 2*p/w - 1
			if p > w {
				want = 1 - 2*(p-w)/(1-w)
			}
			if math.Abs(y-want) > 1e-9 {
				t.Fatalf("width %g %%: sample %d is %.12f; want %.12f", width, n, y, want)
			}
		}
	}
}

// A straight line from 0 to 1 in the written time, on its exact samples.
func TestFadeInGrowsEvenlyBehindEveryNote(t *testing.T) {
	set := func(fade float64) *rig.Rig {
		return rig.New(Kind()).Set("rate", 5, "Hz").Set("phase", 90, "deg").Set("fade-in", fade, "s").Feed("note", knock(0, 50000))
	}
	plain, faded := set(0).Out("out", 100000), set(0.5).Out("out", 100000)
	for n := range faded {
		want := plain[n] * min(float64(n%50000)/24000, 1)
		if math.Abs(faded[n]-want) > 1e-10 {
			t.Fatalf("sample %d is %.12f; the swing times a straight line is %.12f", n, faded[n], want)
		}
	}
	if faded[24000] != plain[24000] || faded[0] != 0 || faded[50000] != 0 {
		t.Errorf("it starts with %g and %g, and after 0.5 s is %g instead of %g", faded[0], faded[50000], faded[24000], plain[24000])
	}
}

func TestNotesRestartTheCycleOrRunItOnce(t *testing.T) {
	set := func(run, shape string) *rig.Rig {
		return rig.New(Kind()).Choose("run", run).Choose("shape", shape).Set("rate", 10, "Hz").Set("width", 25, "%").Feed("note", knock(3000, 20000, 22000))
	}
	free, again := set("runs on", "sine").Out("out", 30000), set("restarts", "sine").Out("out", 30000)
	for n := range 2000 {
		if again[20000+n] != free[n] || again[22000+n] != free[n] {
			t.Fatalf("%d samples behind a note the cycle is at %g, at its start at %g", n, again[20000+n], free[n])
		}
	}
	for shape, rest := range map[string]float64{"sine": 0, "triangle": 0, "saw": 0, "slope": 0, "pulse": -1} {
		x := set("once", shape).Out("out", 30000)
		cycle := set("restarts", shape).Feed("note", knock(0)).Out("out", 4801)
		for n, y := range x {
			want := rest
			for _, at := range []int{3000, 20000, 22000} {
				if n >= at && n < at+4800 {
					want = cycle[n-at]
				}
			}
			if math.Abs(y-want) > 1e-14 {
				t.Fatalf("%s, once: sample %d is %g; want %g", shape, n, y, want)
			}
		}
	}
	pulse := set("once", "pulse").Out("out", 8000)
	if pulse[2999] != -1 || pulse[3000] != 1 || pulse[4199] != 1 || pulse[4201] != -1 {
		t.Errorf("a single pulse of 25 ms goes %g, %g ... %g, %g", pulse[2999], pulse[3000], pulse[4199], pulse[4201])
	}
}

func BenchmarkSlowOnce(b *testing.B) {
	struck := func(n int) float64 { return float64(1 - min(n%64, 1)) } // so that the fade-in never ends
	b.Run("faded", rig.New(Kind()).Set("fade-in", 20, "s").Feed("note", struck).Bench)
	b.Run("slope", rig.New(Kind()).Choose("shape", "slope").Bench)
}
