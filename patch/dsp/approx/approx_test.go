package approx

import (
	"math"
	"testing"
)

// The standard library's functions err by less than 1e-15 themselves; the
// claims here are wider than that, or equal to it.
func TestErrorsStayBelowWhatTheCommentsSay(t *testing.T) {
	relative := func(got, want float64) float64 { return math.Abs(got-want) / max(math.Abs(want), 1e-300) }
	absolute := func(got, want float64) float64 { return math.Abs(got - want) }
	for _, c := range []struct {
		name      string
		from, to  float64
		got, want func(float64) float64
		error     func(got, want float64) float64
		claim     float64
	}{
		{"Sine", 0, 1, Sine, func(p float64) float64 { return math.Sin(2 * math.Pi * p) }, absolute, 3e-15},
		{"Sines", 0, 1, func(p float64) float64 { x := [...]float64{0, p}; Sines(x[1:]); return x[1] }, func(p float64) float64 { return math.Sin(2 * math.Pi * p) }, absolute, 3e-15},
		{"Exp2 near 0", -1, 1, Exp2, math.Exp2, relative, 1e-15},
		{"Exp2", -1000, 1000, Exp2, math.Exp2, relative, 1e-15},
		{"Tan", 1e-6, 0.4975, Tan, func(v float64) float64 { return math.Tan(math.Pi * v) }, relative, 2e-12},
		{"Charge of little", 1e-9, 0.01, Charge, func(x float64) float64 { return -math.Expm1(-x) }, relative, 3e-15},
		{"Charge", 0, 40, Charge, func(x float64) float64 { return -math.Expm1(-x) }, relative, 3e-15},
	} {
		worst, at := 0.0, 0.0
		for i := range 200001 {
			x := c.from + (c.to-c.from)*float64(i)/200000
			if e := c.error(c.got(x), c.want(x)); !(e <= worst) {
				worst, at = e, x
			}
		}
		t.Logf("%s: largest error %.2g at %g", c.name, worst, at)
		if !(worst <= c.claim) {
			t.Errorf("%s(%g) is off by %g; the comment says %g", c.name, at, worst, c.claim)
		}
	}
}

func TestExactPlaces(t *testing.T) {
	for _, p := range []float64{0, 0.5, 1} {
		if y := Sine(p); y != 0 {
			t.Errorf("Sine(%g) is %g", p, y)
		}
	}
	for n := -1022; n <= 1023; n++ {
		if Exp2(float64(n)) != math.Ldexp(1, n) {
			t.Errorf("Exp2(%d) is not exact", n)
		}
	}
	if a, b := Exp2(-1e9), Exp2(1e9); a != Exp2(-1022) || b != Exp2(1023) {
		t.Errorf("outside its range Exp2 gives %g and %g", a, b)
	}
}

func TestBesselAgainstTheTable(t *testing.T) {
	for x, want := range map[float64]float64{ // Abramowitz and Stegun, table 9.8 and 9.11
		0: 1, 1: 1.2660658778, 2: 2.2795853023, 5: 27.2398718236, 10: 2815.7166284663,
	} {
		if got := BesselI0(x); math.Abs(got/want-1) > 1e-10 {
			t.Errorf("BesselI0(%g) is %.10f; the table says %.10f", x, got, want)
		}
	}
}

var sink float64

func BenchmarkSine(b *testing.B) {
	measure(b, Sine)
}

func BenchmarkSines(b *testing.B) { // 64 at once; to be held against 64 of Sine
	x := make([]float64, 64)
	for b.Loop() {
		for i := range x {
			x[i] = float64(i) / 64
		}
		Sines(x)
	}
}

func BenchmarkMathSin(b *testing.B) {
	measure(b, func(p float64) float64 { return math.Sin(2 * math.Pi * p) })
}
func BenchmarkExp2(b *testing.B)     { measure(b, Exp2) }
func BenchmarkMathExp2(b *testing.B) { measure(b, math.Exp2) }
func BenchmarkTan(b *testing.B)      { measure(b, func(x float64) float64 { return Tan(x * 0.4975) }) }
func BenchmarkMathTan(b *testing.B) {
	measure(b, func(x float64) float64 { return math.Tan(math.Pi * x * 0.4975) })
}
func BenchmarkCharge(b *testing.B) { measure(b, Charge) }
func BenchmarkMathExpm1(b *testing.B) {
	measure(b, func(x float64) float64 { return -math.Expm1(-x) })
}

func measure(b *testing.B, f func(float64) float64) {
	x, sum := 0.0, 0.0
	for b.Loop() {
		sum += f(x)
		if x += 0.001; x > 1 {
			x = 0
		}
	}
	sink = sum
}

func TestSincIsOneAtZeroAndNothingAtTheOtherWholeNumbers(t *testing.T) {
	if got := Sinc(0); got != 1 {
		t.Errorf("Sinc(0) is %g", got)
	}
	for n := 1.0; n < 50; n++ {
		if got := Sinc(n); math.Abs(got) > 1e-15 || Sinc(-n) != got {
			t.Errorf("Sinc(+-%g) is %g, %g; want 0", n, got, Sinc(-n))
		}
	}
	for x := -50.0; x < 50; x += 0.137 {
		if want := math.Sin(math.Pi*x) / (math.Pi * x); math.Abs(Sinc(x)-want) > 1e-13 {
			t.Errorf("Sinc(%g) is %.16f, the standard library has %.16f", x, Sinc(x), want)
		}
	}
}
