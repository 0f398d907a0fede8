package movement

import (
	"math"
	"math/rand/v2"
	"testing"
)

func wave(n int, fn func(i float64) float64) []float64 {
	x := make([]float64, n)
	for i := range x {
		x[i] = fn(float64(i))
	}
	return x
}

// What is looked for is what the wave was made with.
func TestAPeriodIsFoundWhateverTheShape(t *testing.T) {
	sine := func(cycles float64) float64 { return math.Sin(2 * math.Pi * cycles) }
	saw := func(cycles float64) float64 { return cycles - math.Floor(cycles) }
	square := func(cycles float64) float64 { return math.Copysign(1, 0.5-saw(cycles)) }
	for _, c := range []struct {
		name   string
		n      int
		period float64
		within float64 // part of the period
		of     func(cycles float64) float64
	}{
		{"a sine of many periods", 4096, 125, 1e-6, sine},
		{"a sine of a period that is no whole number", 4096, 218.1818, 1e-5, sine},
		{"a sine that was seen little more than twice", 600, 270, 1e-3, sine},
		{"a saw", 4096, 125.3, 2e-3, saw},
		{"a square", 4096, 163.7, 2e-3, square},
		{"a pulse that is seldom there", 4096, 300, 1e-3, func(c float64) float64 { return math.Exp(-40 * saw(c)) }},
		{"an octave that is stronger than what it is the octave of", 4096, 250, 1e-4, func(c float64) float64 { return 0.5*sine(c) + sine(2*c+0.1) }},
		{"two tones in the ratio of 3 to 2, together once in a while", 4096, 200, 1e-4, func(c float64) float64 { return sine(2*c) + sine(3*c) }},
		{"far from zero", 4096, 125, 1e-5, func(c float64) float64 { return 1e4 + sine(c) }},
	} {
		x := wave(c.n, func(i float64) float64 { return c.of(i / c.period) })
		f := &finder{}
		got, ok := f.period(x)
		if !ok || math.Abs(got/c.period-1) > c.within {
			t.Errorf("%s: %.5f, %v; want %g", c.name, got, ok, c.period)
		}
	}
}

func TestWhatDoesNotRepeatHasNoPeriod(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	walk := 0.0
	held := 0.0
	for name, x := range map[string][]float64{
		"noise":                wave(4096, func(float64) float64 { return r.Float64() }),
		"a walk":               wave(4096, func(float64) float64 { walk += r.Float64() - 0.5; return walk }),
		"a ramp":               wave(4096, func(i float64) float64 { return i }),
		"a fall":               wave(4096, func(i float64) float64 { return math.Exp(-i / 900) }),
		"one hump":             wave(4096, func(i float64) float64 { return math.Exp(-(i - 2000) * (i - 2000) / 1e5) }),
		"one period and a bit": wave(4096, func(i float64) float64 { return math.Sin(2 * math.Pi * i / 3300) }),
		"held random values": wave(4096, func(i float64) float64 {
			if int(i)%187 == 0 {
				held = r.Float64()
			}
			return held
		}),
		"nothing": make([]float64, 4096),
		"too few": wave(20, func(i float64) float64 { return math.Sin(i) }),
	} {
		f := &finder{}
		if got, ok := f.period(x); ok {
			t.Errorf("%s comes round after %g values", name, got)
		}
	}
}

// 220 Hz at 48 kHz has a period of 218.18 values; within 16,384 of them it is to
// be known to half a hundredth of a hertz; above 500 Hz to 1e-5 of it.
func TestALongStretchMakesAPeriodExact(t *testing.T) {
	for name, of := range map[string]func(c float64) float64{
		"sine":   func(c float64) float64 { return math.Sin(2 * math.Pi * c) },
		"square": func(c float64) float64 { return math.Copysign(1, 0.5-(c-math.Floor(c))) },
	} {
		for _, hz := range []float64{220, 23.9, 1234.5, 9000} {
			want := 48000 / hz
			x := wave(32768, func(i float64) float64 { return of(i / want) })
			if name == "square" && hz > 2000 {
				continue // edges that fall between values: no curve to look along
			}
			got := exact(x, want*(1+2e-4))
			if math.Abs(48000/got-hz) > max(0.005, 1e-5*hz) {
				t.Errorf("a %s of %g Hz reads %.4f Hz", name, hz, 48000/got)
			}
		}
	}
}

// A screen that stood still for two seconds leaves a gap in what is drawn, and a
// rate that is measured from there on; half a second leaves none.
func TestAScreenThatStoodStillLeavesAGap(t *testing.T) {
	for _, c := range []struct {
		seconds float64
		gap     bool
	}{{0.5, false}, {1.2, false}, {2, true}} {
		g := open(t, "soot", "slow", "filter")
		g.sets("slow", "rate", "6 Hz")
		g.joins("slow/out", "filter/cutoff", "1 oct")
		g.opens(3)
		g.Listen(c.seconds)
		g.sounds(2)
		r := g.plate.rows[0]
		if r.rate.manner != periodic || math.Abs(r.rate.hz-6) > 0.005 {
			t.Errorf("after %g s it reads %v", c.seconds, r.rate)
		}
		missing := 0
		outline := make([]column, 300)
		r.history.outline(outline, 4.5*48000)
		for _, o := range outline {
			if o.least != o.least {
				missing++
			}
		}
		if missing > 0 != c.gap {
			t.Errorf("after %g s %d columns of 300 are not known", c.seconds, missing)
		}
	}
}
