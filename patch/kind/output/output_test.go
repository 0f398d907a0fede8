package output

import (
	"math"
	"testing"

	"lampblack/patch/kind/rig"
)

func TestRightLeftOpenFollowsLeft(t *testing.T) {
	sides := rig.New(Kind()).Feed("left", rig.Sine(440)).Run(4800)
	for i := range sides[0] {
		if sides[0][i] != sides[1][i] {
			t.Fatalf("sample %d is %g left and %g right", i, sides[0][i], sides[1][i])
		}
	}
}

func TestFirstSoundIsTwelveDecibelsDown(t *testing.T) {
	r := rig.New(Kind()).Feed("left", func(int) float64 { return 1 }).Feed("right", func(int) float64 { return -1 })
	sides := r.Run(64)
	if l, r := rig.DB(sides[0][0]), sides[1][0]; math.Abs(l+12) > 1e-9 || r != -sides[0][0] {
		t.Errorf("left %.3f dB, right %g", l, r)
	}
}

func TestLowestMarkIsSilence(t *testing.T) {
	r := rig.New(Kind()).Feed("left", func(int) float64 { return 1 }).Set("level", -96, "dB")
	if y := r.Run(64)[0][0]; y != 0 {
		t.Errorf("-96 dB lets %g through", y)
	}
}
