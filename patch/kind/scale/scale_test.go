package scale

import (
	"math"
	"testing"

	"lampblack/patch/kind/rig"
)

// Arithmetic, and the intervals of ISO 16's equal temperament: 19 semitones are
// 1.583333 octaves.
func TestOutIsInTimesFactorPlusOffset(t *testing.T) {
	for _, c := range []struct {
		name           string
		factor         float64
		offset         float64
		unit           string
		in, want       float64
		lowest, higher float64 // in %, or both 0: no limits
	}{
		{"unchanged", 1, 0, "%", 0.3, 0.3, 0, 0},
		{"-1 becomes 0", 0.5, 50, "%", -1, 0, 0, 0},
		{"+1 becomes 1", 0.5, 50, "%", 1, 1, 0, 0},
		{"turned over", -1, 100, "%", 0.25, 0.75, 0, 0},
		{"a twelfth up", 1, 19.0 / 12, "oct", -9.0 / 12, 10.0 / 12, 0, 0},
		{"cut off above", 10, 0, "%", 0.5, 1, -100, 100},
		{"cut off below", 10, 0, "%", -0.5, -0.2, -20, 100},
		{"crossed limits: highest holds", 1, 0, "%", 0, -0.5, 50, -50},
	} {
		r := rig.New(Kind()).Set("factor", c.factor, "x").Set("offset", c.offset, c.unit).Feed("in", func(int) float64 { return c.in })
		if c.lowest != 0 || c.higher != 0 {
			r.Choose("limits", "on").Set("lowest", c.lowest, "%").Set("highest", c.higher, "%")
		}
		for i, y := range r.Out("out", 70) {
			if math.Abs(y-c.want) > 1e-15 {
				t.Fatalf("%s: sample %d is %g; want %g", c.name, i, y, c.want)
			}
		}
	}
}

func TestEverythingMayMoveWithEverySample(t *testing.T) {
	r := rig.New(Kind()).Feed("in", rig.Sine(100))
	r.Move("factor", "x", func(n int) float64 { return float64(n%7) - 3 }).Move("offset", "oct", func(n int) float64 { return float64(n % 5) })
	r.Move("limits", "", func(n int) float64 { return float64(n / 3 % 2) }).Move("highest", "%", func(n int) float64 { return float64(n % 400) }).Set("lowest", -50, "%")
	for n, y := range r.Out("out", 3000) {
		want := rig.Sine(100)(n)*(float64(n%7)-3) + float64(n%5)
		if n/3%2 == 1 {
			want = min(max(want, -0.5), float64(n%400)/100)
		}
		if math.Abs(y-want) > 1e-12 {
			t.Fatalf("sample %d is %g; want %g", n, y, want)
		}
	}
}

func BenchmarkScale(b *testing.B) {
	b.Run("free", rig.New(Kind()).Feed("in", rig.Sine(100)).Bench)
	b.Run("limited", rig.New(Kind()).Choose("limits", "on").Feed("in", rig.Sine(100)).Bench)
}
