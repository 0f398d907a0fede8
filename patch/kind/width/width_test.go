package width

import (
	"math"
	"testing"

	"lampblack/patch/dsp/hash"
	"lampblack/patch/kind/rig"
)

func noise(seed uint64) rig.Wave { return func(n int) float64 { return hash.Signed(seed, uint64(n)) } }

func stereo() *rig.Rig { return rig.New(Kind()).Feed("left", noise(1)).Feed("right", noise(2)) }

func TestUnchangedMonoAndWide(t *testing.T) {
	for width, check := range map[float64]func(l, r, left, right float64) bool{
		100: func(l, r, left, right float64) bool { return l == left && r == right },
		0:   func(l, r, left, right float64) bool { return left == (l+r)/2 && right == (l+r)/2 },
		200: func(l, r, left, right float64) bool {
			return math.Abs(left-(1.5*l-0.5*r)) < 1e-15 && math.Abs(right-(1.5*r-0.5*l)) < 1e-15
		},
		50: func(l, r, left, right float64) bool {
			return math.Abs(left-(0.75*l+0.25*r)) < 1e-15 && math.Abs(right-(0.75*r+0.25*l)) < 1e-15
		},
	} {
		out := stereo().Set("width", width, "%").Run(1000)
		for n := range out[0] {
			if !check(noise(1)(n), noise(2)(n), out[0][n], out[1][n]) {
				t.Fatalf("%g %%: %g, %g becomes %g, %g", width, noise(1)(n), noise(2)(n), out[0][n], out[1][n])
			}
		}
	}
}

// The mono sum does not depend on the width, nor on mono below.
func TestTheMonoSumStays(t *testing.T) {
	r := stereo().Move("width", "%", func(n int) float64 { return float64(n % 201) }).Set("mono below", 300, "Hz")
	out := r.Run(5000)
	for n := range out[0] {
		if e := out[0][n] + out[1][n] - noise(1)(n) - noise(2)(n); math.Abs(e) > 1e-14 {
			t.Fatalf("sample %d: the sum is off by %g", n, e)
		}
	}
}

// First-order theory: the side is 3.01 dB down at the frequency, 20 log10 (1/sqrt(1 + 16)) = -12.30 two octaves under it.
func TestMonoBelowTakesTheSideAway(t *testing.T) {
	for hz, want := range map[float64]float64{250: -3.0103, 62.5: -12.3045, 5000: -0.0108} {
		r := rig.New(Kind()).Feed("left", rig.Sine(hz)).Feed("right", func(n int) float64 { return -rig.Sine(hz)(n) }).Set("mono below", 250, "Hz")
		r.Run(48000)
		if db := rig.DB(rig.RMS(r.Out("side", 48000))) + 3.0103; math.Abs(db-want) > 0.02 {
			t.Errorf("at %g Hz the side is at %.3f dB; want %.3f", hz, db, want)
		}
	}
}

func TestWhatIsNoNumberIsForgotten(t *testing.T) {
	r := rig.New(Kind()).Set("mono below", 100, "Hz").Feed("left", func(n int) float64 {
		if n == 10 {
			return math.NaN()
		}
		return 0
	}).Feed("right", func(int) float64 { return 0 })
	if x := r.Out("left", 100); x[99] != 0 || !r.Clamped {
		t.Errorf("after a sample that is no number left is %g, said so: %v", x[99], r.Clamped)
	}
}

func BenchmarkWidth(b *testing.B) {
	b.Run("100 %", stereo().Bench)
	b.Run("mono below", stereo().Set("width", 150, "%").Set("mono below", 120, "Hz").Bench)
}
