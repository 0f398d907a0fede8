package pan

import (
	"math"
	"testing"

	"lampblack/patch/kind/rig"
)

func at(law string, position float64) (left, right float64) {
	r := rig.New(Kind()).Feed("in", func(int) float64 { return 0.5 }).Choose("law", law).Set("position", position, "%")
	out := r.Run(1)
	return out[0][0] / 0.5, out[1][0] / 0.5
}

// Source: cos/sin and straight lines, by the standard library; their middles,
// 20 log10 of 1/sqrt 2, 1/2 and the root of their product.
func TestLawsAreTheirFormulas(t *testing.T) {
	middle := map[string]float64{"constant power": -3.0103, "between": -4.5155, "constant sum": -6.0206}
	for law, f := range map[string]func(p float64) float64{ // the right side
		"constant power": func(p float64) float64 { return math.Sin((p + 1) * math.Pi / 4) },
		"constant sum":   func(p float64) float64 { return (p + 1) / 2 },
		"between":        func(p float64) float64 { return math.Sqrt((p + 1) / 2 * math.Sin((p+1)*math.Pi/4)) },
	} {
		for p := -100.0; p <= 100; p += 2.5 {
			left, right := at(law, p)
			if math.Abs(right-f(p/100)) > 1e-14 || math.Abs(left-f(-p/100)) > 1e-14 {
				t.Errorf("%s at %g %%: %g, %g; the formula says %g, %g", law, p, left, right, f(-p/100), f(p/100))
			}
		}
		if left, right := at(law, -100); left != 1 || right != 0 {
			t.Errorf("%s: left gives %g, %g", law, left, right)
		}
		if left, right := at(law, 100); left != 0 || right != 1 {
			t.Errorf("%s: right gives %g, %g", law, left, right)
		}
		left, right := at(law, 0)
		if left != right || math.Abs(rig.DB(left)-middle[law]) > 1e-4 {
			t.Errorf("%s: the middle gives %.4f and %.4f dB; want %.4f", law, rig.DB(left), rig.DB(right), middle[law])
		}
	}
}

// Both loudspeakers together are equally loud everywhere, as powers or as sums.
func TestPowerAndSumStayConstant(t *testing.T) {
	for p := -100.0; p <= 100; p += 1 {
		if l, r := at("constant power", p); math.Abs(l*l+r*r-1) > 1e-14 {
			t.Errorf("at %g %% the power is %g", p, l*l+r*r)
		}
		if l, r := at("constant sum", p); math.Abs(l+r-1) > 1e-15 {
			t.Errorf("at %g %% the sum is %g", p, l+r)
		}
	}
}

func TestPositionMovesWithEverySample(t *testing.T) {
	r := rig.New(Kind()).Feed("in", func(int) float64 { return 1 }).Move("position", "%", func(n int) float64 { return float64(n%201) - 100 })
	out := r.Run(402)
	for n := range out[0] {
		if want := math.Cos(float64(n%201) / 200 * math.Pi / 2); math.Abs(out[0][n]-want) > 1e-14 {
			t.Fatalf("sample %d: left is %g; want %g", n, out[0][n], want)
		}
	}
}

func BenchmarkPan(b *testing.B) {
	b.Run("steady", rig.New(Kind()).Feed("in", rig.Sine(440)).Bench)
	b.Run("moved", rig.New(Kind()).Feed("in", rig.Sine(440)).Move("position", "%", rig.Sine(5)).Bench)
}
