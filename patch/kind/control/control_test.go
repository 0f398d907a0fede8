package control

import (
	"math"
	"testing"
)

// 10^(dB/20), and off at the lowest mark, with no step on the way down.
func TestGainFollowsTheScaleAndEndsInSilence(t *testing.T) {
	for db := 24.0; db > LevelMin+6.1; db -= 0.1 {
		if v := math.Pow(10, db/20); Gain(v) != v {
			t.Errorf("at %.1f dB the gain is %g; want %g", db, Gain(v), v)
		}
	}
	if g := Gain(math.Pow(10, LevelMin/20.0)); g != 0 {
		t.Errorf("at %d dB the gain is %g; want 0", LevelMin, g)
	}
	before := Gain(math.Pow(10, (LevelMin+7.0)/20))
	for db := LevelMin + 7.0; db > LevelMin-1; db -= 0.01 {
		g := Gain(math.Pow(10, db/20))
		if g > before || before-g > 1e-7 {
			t.Fatalf("at %.2f dB the gain goes from %g to %g", db, before, g)
		}
		before = g
	}
}

func TestNumberIsTheNearestWithinItsRange(t *testing.T) {
	for v, want := range map[float64]int{-3: 0, 0: 0, 0.4: 0, 0.6: 1, 2: 2, 2.9999: 3, 9: 3} {
		if got := Number(v, 3); got != want {
			t.Errorf("%g of 0 to 3 is %d; want %d", v, got, want)
		}
	}
}
