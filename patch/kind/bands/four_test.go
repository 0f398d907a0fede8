package bands

import (
	"testing"

	"lampblack/patch/dsp/hash"
)

// Takes are proved bit by bit, whatever processor runs them.
func TestFourBandsAtOnceGiveTheBitsOfOneByOne(t *testing.T) {
	for _, s := range []steps{{0, 0}, {1, 1}, {0, 1}} {
		together := four{first: 6}
		for k := 6; k < 10; k++ {
			if k != 8 { // one is left out
				together.put(k, newBand(edge(first-1+k)/48000, edge(first+k)/48000))
			}
		}
		single := together
		var sums, want [100]row
		var in [100]float64
		var gains [100]gain
		for i := range in {
			in[i] = hash.Signed(1, uint64(i))
			for k := range gains[i] {
				gains[i][k] = hash.Signed(2, uint64(i*len(gains[i])+k))
			}
		}
		for _, n := range []int{1, 2, 7, 100} {
			together.run(sums[:n], in[:n], gains[:], s)
			for k := range abreast {
				single.lane(k, want[:n], in[:n], gains[:], s)
			}
			if sums != want || together != single {
				t.Fatalf("steps %v, %d samples: four at once differ from one by one", s, n)
			}
		}
		if sums[99][0] == 0 || sums[99][2] != 0 {
			t.Error("nothing passes, or a band that was left out does")
		}
	}
}
