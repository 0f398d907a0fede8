package lanes

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// odd are numbers at which something is special.
var odd = []float64{0, math.Copysign(0, -1), 1, -1, 0.5, 1.5, -0.5, 2, 1e-310, 1e-15, 3e300, -3e300, 1023, 1023.7, -1022, -1022.5, -2000, 5000, math.Inf(1), math.Inf(-1), math.NaN()}

// samples are n numbers, a few of them odd, at a place of memory that is not
// always a multiple of 32 bytes.
func samples(r *rand.Rand, n int) []float64 {
	x := make([]float64, n+3)[r.IntN(4):][:n]
	for i := range x {
		x[i] = (2*r.Float64() - 1) * math.Exp2(float64(r.IntN(12)-6))
		if r.IntN(6) == 0 {
			x[i] = odd[r.IntN(len(odd))]
		}
	}
	return x
}

func unalike(a, b float64) bool {
	return math.Float64bits(a) != math.Float64bits(b) && !(a != a && b != b)
}

// Takes are proved bit by bit, whatever processor runs them: four at a time must
// give what the plain loops give.
func TestFourAtATimeGivesTheBitsOfOneByOne(t *testing.T) {
	if !fours {
		t.Skip("this processor computes one by one")
	}
	type call struct {
		name string
		run  func(dst, a, b []float64, x, y float64) string
	}
	calls := []call{
		{"Fill", func(dst, _, _ []float64, x, _ float64) string { Fill(dst, x); return "" }},
		{"Same", func(dst, _, _ []float64, _, _ float64) string { return fmt.Sprint(Same(dst)) }},
		{"Within", func(dst, _, _ []float64, x, _ float64) string { return fmt.Sprint(Within(dst, math.Abs(x))) }},
		{"Add", func(dst, a, b []float64, _, _ float64) string { Add(dst, a, b); return "" }},
		{"Multiply", func(dst, a, b []float64, _, _ float64) string { Multiply(dst, a, b); return "" }},
		{"AddProduct", func(dst, a, b []float64, _, _ float64) string { AddProduct(dst, a, b); return "" }},
		{"Scale", func(dst, a, _ []float64, x, _ float64) string { Scale(dst, a, x); return "" }},
		{"AddScaled", func(dst, a, _ []float64, x, _ float64) string { AddScaled(dst, a, x); return "" }},
		{"Swing", func(dst, a, _ []float64, x, y float64) string { Swing(dst, a, x, y); return "" }},
		{"Clamp", func(dst, _, _ []float64, x, y float64) string {
			r := Reach{Least: math.Inf(1), Most: math.Inf(-1)}
			Clamp(dst, min(x, y), max(x, y), &r)
			return fmt.Sprintf("%v %v %v %v", r.Least+0, r.Most+0, r.Under, r.Over)
		}},
		{"Above", func(dst, a, _ []float64, x, _ float64) string { Above(dst, a, math.Abs(x)); return "" }},
		{"Sines", func(dst, _, _ []float64, _, _ float64) string { Sines(dst); return "" }},
		{"Tones", func(dst, a, _ []float64, _, _ float64) string {
			phases := make([]uint64, len(a))
			for i, v := range a {
				phases[i] = math.Float64bits(v) * 0x9E3779B97F4A7C15
			}
			Tones(dst, phases)
			return ""
		}},
		{"Powers", func(dst, _, _ []float64, x, _ float64) string { Powers(dst, x); return "" }},
	}
	r := rand.New(rand.NewPCG(1, 2))
	for _, c := range calls {
		for round := range 20000 {
			n := r.IntN(70)
			one, a, b := samples(r, n), samples(r, n), samples(r, n)
			if round%3 == 0 && n > 0 {
				Fill(one, 0.25) // for Same and Within, which are seldom true else
			}
			four := append([]float64(nil), one...)
			x, y := 2*r.Float64()-1, 4*r.Float64()-2
			fours = false
			said := c.run(one, a, b, x, y)
			fours = true
			if now := c.run(four, a, b, x, y); now != said {
				t.Fatalf("%s of %d: one by one says %s, four at a time %s", c.name, n, said, now)
			}
			for i := range one {
				if unalike(one[i], four[i]) {
					t.Fatalf("%s of %d, sample %d: %g one by one, %g four at a time", c.name, n, i, one[i], four[i])
				}
			}
		}
	}
}

func TestWhatIsNoNumberIsNoticed(t *testing.T) {
	for at := range 13 {
		for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 2.5} {
			x := make([]float64, 13)
			if !Within(x, 2) || !Same(x) {
				t.Fatal("thirteen zeros are not within 2, or not the same")
			}
			x[at] = bad
			if Within(x, 2) || Same(x) {
				t.Errorf("%g at sample %d: within 2 is %v, the same is %v", bad, at, Within(x, 2), Same(x))
			}
			r := Reach{Least: math.Inf(1), Most: math.Inf(-1)}
			Clamp(x, -1, 2, &r)
			if low := !(bad > 0); r.Under != low || r.Over == low || !Within(x, 2) {
				t.Errorf("%g at sample %d is clamped to %g; under %v, over %v", bad, at, x[at], r.Under, r.Over)
			}
		}
	}
}

func TestToneIsTheSineOfItsPhase(t *testing.T) {
	for i := range 100000 {
		phase := uint64(i) * 0x9E3779B97F4A7C15
		got, want := Tone(phase), math.Sin(2*math.Pi*(float64(phase>>11)/(1<<53)))
		if math.Abs(got-want) > 4e-15 { // 3e-15 of Sine, and what math.Sin errs
			t.Fatalf("phase %d: %g; package math says %g", phase, got, want)
		}
	}
	if Tone(0) != 0 || Tone(1<<63) != 0 {
		t.Error("no zero where there must be one")
	}
}

// BenchmarkLanes tells what a sample costs in blocks of 64.
func BenchmarkLanes(b *testing.B) {
	dst, src := make([]float64, 64), make([]float64, 64)
	Fill(src, 0.25)
	for _, c := range []struct {
		name string
		run  func()
	}{
		{"Fill", func() { Fill(dst, 1) }},
		{"Same", func() { Same(src) }},
		{"Within", func() { Within(src, 1) }},
		{"Swing", func() { Swing(dst, src, 0.5, 0.5) }},
		{"Clamp", func() { Clamp(dst, 0, 1, &Reach{}) }},
		{"Above", func() { Above(dst, src, 1e-5) }},
		{"Sines", func() { copy(dst, src); Sines(dst) }},
		{"Powers", func() { copy(dst, src); Powers(dst, 1) }},
	} {
		for _, how := range []bool{false, true} {
			if how && !fours {
				continue
			}
			b.Run(fmt.Sprintf("%s/four=%v", c.name, how), func(b *testing.B) {
				was := fours
				fours = how
				defer func() { fours = was }()
				for b.Loop() {
					c.run()
				}
				b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/64, "ns/sample")
			})
		}
	}
}
