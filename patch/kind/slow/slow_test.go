package slow

import (
	"math"
	"testing"

	"lampblack/patch/kind/rig"
)

// The shapes by their definitions: cycles of 100 samples at 48 kHz.
func TestShapesAreTheirDefinitions(t *testing.T) {
	for shape, f := range map[string]func(p float64) float64{
		"sine":     func(p float64) float64 { return math.Sin(2 * math.Pi * p) },
		"triangle": func(p float64) float64 { return 2 / math.Pi * math.Asin(math.Sin(2*math.Pi*p)) },
		"saw":      func(p float64) float64 { return 2 * (p - math.Round(p)) },
		"pulse": func(p float64) float64 {
			if p-math.Floor(p) < 0.3 {
				return 1
			}
			return -1
		},
	} {
		r := rig.New(Kind()).Choose("shape", shape).Set("rate", 10, "Hz").Set("width", 30, "%").Set("phase", 36, "deg")
		for n, y := range r.Out("out", 48000) {
			p := (float64(n) + 0.001) / 4800 // off the jumps, whose sample is a matter of rounding
			if m := math.Mod(p+0.1, 1); math.Abs(m-0.3) < 0.0003 || math.Abs(m-0.5) < 0.0003 || m < 0.0003 || m > 0.9997 {
				continue
			}
			if want := f(p + 0.1); math.Abs(y-want) > 1e-5 {
				t.Fatalf("%s at sample %d is %g; want %g", shape, n, y, want)
			}
		}
	}
}

func TestRateIsKeptForAMinute(t *testing.T) {
	r := rig.New(Kind()).Set("rate", 0.7, "Hz")
	r.Run(48000 * 60)
	x := r.Out("out", 48000)
	for i := 0; i < len(x); i += 1000 {
		if want := math.Sin(2 * math.Pi * math.Mod(0.7*float64(48000*60+i)/48000, 1)); math.Abs(x[i]-want) > 1e-7 {
			t.Fatalf("after a minute and %d samples it is at %g; want %g", i, x[i], want)
		}
	}
}

func TestRestartGoesBackToPhase(t *testing.T) {
	r := rig.New(Kind()).Set("rate", 3, "Hz").Set("phase", 90, "deg").Feed("restart", func(n int) float64 {
		if n >= 5000 && n < 5100 {
			return 1
		}
		return 0
	})
	x := r.Out("out", 10000)
	for i := range 3000 {
		if math.Abs(x[5000+i]-x[i]) > 1e-12 {
			t.Fatalf("%d samples after the restart it is at %g; after the start at %g", i, x[5000+i], x[i])
		}
	}
	if math.Abs(x[0]-1) > 1e-12 {
		t.Errorf("a sine of phase 90 degrees starts at %g; want its top", x[0])
	}
}

func BenchmarkSlow(b *testing.B) {
	for _, shape := range []string{"sine", "triangle", "saw", "pulse"} {
		b.Run(shape, rig.New(Kind()).Choose("shape", shape).Bench)
	}
}
