package cycle

import (
	"math"
	"math/big"
	"testing"
)

// Exact rational arithmetic: cycle k of a rate starts at the first sample that
// is not before k/rate.
func TestCyclesStartOnTheirSampleForMinutes(t *testing.T) {
	for _, c := range []struct{ rate, per int64 }{{4, 1}, {1, 1}, {7, 3}, {33, 100}, {440, 1}, {20000, 1}} {
		var counter Counter
		step := float64(c.rate) / float64(c.per) / 48000
		before, late, cycles := int64(-1), 0, 0
		for n := range int64(48000 * 310) {
			whole, part := counter.Next(step)
			if !(part >= 0 && part < 1) {
				t.Fatalf("%d/%d Hz: part %g at sample %d", c.rate, c.per, part, n)
			}
			if whole == before {
				continue
			}
			before = whole
			cycles++
			first := big.NewInt(whole * 48000 * c.per)
			first.Add(first, big.NewInt(c.rate-1)).Quo(first, big.NewInt(c.rate))
			if first.Int64() != n {
				late++
			}
		}
		t.Logf("%d/%d Hz: %d cycles, %d off their sample", c.rate, c.per, cycles, late)
		if late > 0 || cycles < 100 {
			t.Errorf("%d/%d Hz: %d of %d cycles start off their sample", c.rate, c.per, late, cycles)
		}
	}
}

func TestAMovingRateAddsUp(t *testing.T) {
	var c Counter
	sum := 0.0
	for n := range 100000 {
		step := 0.01 * (1 + math.Sin(float64(n)*0.001))
		whole, part := c.Next(step)
		if got := float64(whole) + part; math.Abs(got-sum) > 1e-8 {
			t.Fatalf("sample %d stands at %.12f; the sum of its steps is %.12f", n, got, sum)
		}
		sum += step
	}
}

func BenchmarkNext(b *testing.B) {
	var c Counter
	for b.Loop() {
		c.Next(0.0001)
	}
}
