package noise

import (
	"os"
	"testing"

	"lampblack/patch/kind/rig"
)

var long = os.Getenv("LAMPBLACK_LONG") != ""

// A module that begins at any sample gives the bits of one that has run from 0.
// Ten minutes are run for pink in every test, for the others in the long one.
func TestARunFromAnywhereGivesTheSameBits(t *testing.T) {
	for colour, name := range words.Controls[0].Scales[0].Choices {
		places := []int{1000, 1_000_000}
		if long || colour == pinkNoise {
			places = append(places, 48000*600)
		}
		r := rig.New(Kind()).Set("colour", float64(colour), "").Set("seed", 17, "").Set("density", 2000, "Hz")
		at := 0
		for _, place := range places {
			skip(r, place-at)
			want := r.Out("out", 1000)
			at = place + 1000
			other := rig.New(Kind()).Set("colour", float64(colour), "").Set("seed", 17, "").Set("density", 2000, "Hz")
			other.Sound.(*sound).Seek(uint64(place), []float64{float64(colour), 17, 2000})
			got, heard := other.Out("out", 1000), false
			for i := range got {
				heard = heard || got[i] != 0
				if got[i] != want[i] {
					t.Fatalf("%s from sample %d on: sample %d is %g; a run from 0 gives %g", name, place, i, got[i], want[i])
				}
			}
			if !heard {
				t.Errorf("%s from sample %d on is silent", name, place)
			}
		}
	}
}

// Ticks that began before are heard to their end.
func TestCrackleFromAnywhereHasTheTicksOnTheirWay(t *testing.T) {
	dense := func() *rig.Rig { return rig.New(Kind()).Choose("colour", "crackle").Set("density", 5000, "Hz") }
	want := dense().Out("out", 1000)
	for place := range 300 {
		r := dense()
		r.Sound.(*sound).Seek(uint64(place), []float64{crackle, 0, 5000})
		for i, y := range r.Out("out", 20) {
			if y != want[place+i] {
				t.Fatalf("from sample %d on: sample %d is %g; want %g", place, i, y, want[place+i])
			}
		}
	}
}

// skip runs n samples without keeping them.
func skip(r *rig.Rig, n int) {
	for ; n > 0; n -= 64 {
		r.Sound.Block(r.Fill(min(n, 64)))
	}
}

// A change of seed or colour while it sounds makes no step in pink: the low tones
// go on.
func TestPinkGoesOnWhenTheSeedChanges(t *testing.T) {
	still := rig.New(Kind()).Choose("colour", "pink").Out("out", 48000)
	moved := rig.New(Kind()).Choose("colour", "pink").Move("seed", "", func(n int) float64 { return float64(n / 24000) }).Out("out", 48000)
	// White noise alone changes: by what it adds in one sample, not by the state.
	most := 0.0
	for i := 1; i < 24000; i++ {
		most = max(most, abs(still[i]-still[i-1]))
	}
	if step := abs(moved[24000] - moved[23999]); step > most {
		t.Errorf("a new seed makes a step of %g; the largest of pink noise itself is %g", step, most)
	}
	if moved[24100] == still[24100] {
		t.Error("the seed was not moved")
	}
}

func abs(x float64) float64 { return max(x, -x) }

func BenchmarkSeek(b *testing.B) {
	r := rig.New(Kind())
	for b.Loop() {
		r.Sound.(*sound).Seek(48000*600-1, []float64{pinkNoise, 0, 20})
	}
}
