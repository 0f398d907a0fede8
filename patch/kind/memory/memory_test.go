package memory

import (
	"testing"

	"lampblack/patch/kind/rig"
)

func TestGivesOutTheNote(t *testing.T) {
	r := rig.New(Kind()).Note(10, 20)
	b := r.Fill(64)
	for i := range b.N {
		b.Played.Pitch[i], b.Played.Velocity[i] = float64(i)/12, float64(i)/64
	}
	r.Sound.Block(b)
	for i := range b.N {
		gate, trigger := 0.0, 0.0
		if i >= 10 && i < 20 {
			gate = 1
		}
		if i == 10 {
			trigger = 1
		}
		got := [4]float64{b.Out[0][i], b.Out[1][i], b.Out[2][i], b.Out[3][i]}
		if want := [4]float64{float64(i) / 12, gate, trigger, float64(i) / 64}; got != want {
			t.Fatalf("sample %d gives %v; want pitch, gate, trigger, velocity %v", i, got, want)
		}
	}
}
