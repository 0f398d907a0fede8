package oscillator

import (
	"math"
	"testing"

	"lampblack/patch/dsp/hash"
	"lampblack/patch/kind/rig"
)

// wild is an oscillator whose controls jump from limit to limit, or anywhere
// between, every so many samples, and whose cycle noise starts again.
func wild(shape string, every int, seed uint64) *rig.Rig {
	jump := func(i uint64, low, high float64) rig.Wave {
		return func(n int) float64 {
			x := hash.Signed(seed+i, uint64(n/every))
			if n/5000%2 == 0 {
				x = math.Copysign(1, x)
			}
			return low + (high-low)*(0.5+0.5*x)
		}
	}
	r := rig.New(Kind()).Choose("shape", shape)
	r.Move("frequency", "Hz", jump(1, 0.01, 20000)).Move("shift", "Hz", jump(2, -20000, 20000))
	r.Move("phase", "deg", jump(3, -7200, 7200)).Move("feedback", "%", jump(4, 0, 100)).Move("width", "%", jump(5, 1, 99))
	return r.Feed("sync", func(n int) float64 {
		switch n % 97 {
		case 3:
			return math.NaN()
		case 7:
			return math.Inf(-1)
		case 8:
			return math.Inf(1)
		}
		return hash.Signed(seed+9, uint64(n))
	})
}

// A phase that jumps by 40 cycles within a sample has no shape left; but it stays
// near the peaks, and stands still again when all does.
func TestWildMovementsStayBounded(t *testing.T) {
	for _, shape := range []string{"sine", "triangle", "saw", "pulse"} {
		var most float64
		for _, every := range []int{1, 2, 3, 7, 50} {
			for seed := range uint64(2) {
				for o, out := range wild(shape, every, 100*seed).Run(11000) {
					for i, y := range out {
						if !(math.Abs(y) <= limit) || o == 1 && !(math.Abs(y) <= 1) {
							t.Fatalf("%s, every %d: output %d is %g at sample %d", shape, every, o, y, i)
						}
						most = max(most, math.Abs(y))
					}
				}
			}
		}
		t.Logf("%s: at most %.2f", shape, most)
	}
}

// After the wildest movement the oscillator sounds as one that was never moved, but
// for its phase.
func TestCalmReturnsAfterWildMovements(t *testing.T) {
	for _, shape := range []string{"sine", "triangle", "saw", "pulse"} {
		r := wild(shape, 1, 5)
		r.Run(5000)
		r.Feed("sync", func(int) float64 { return 0 })
		r.Set("frequency", 1000, "Hz").Set("shift", 0, "Hz").Set("phase", 0, "deg").Set("feedback", 0, "%").Set("width", 50, "%")
		r.Run(1000)
		got, want := rig.Lines(r.Out("out", 4800)), rig.Lines(rig.New(Kind()).Choose("shape", shape).Set("frequency", 1000, "Hz").Out("out", 4800))
		for k := range want[:2000] { // above 20 kHz it depends on the phase what folds
			if math.Abs(got[k]-want[k]) > 1e-5 {
				t.Errorf("%s: line %d is %g; of one that was never moved %g", shape, k, got[k], want[k])
			}
		}
	}
}

// What costs most is bounded: see mostCorners.
func BenchmarkWild(b *testing.B) {
	for _, shape := range []string{"sine", "triangle", "saw", "pulse"} {
		b.Run(shape, wild(shape, 1, 1).Bench)
	}
}
