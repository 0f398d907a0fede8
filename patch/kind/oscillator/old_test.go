package oscillator

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"math"
	"testing"

	"lampblack/patch/dsp/hash"
	"lampblack/patch/kind/rig"
	"lampblack/patch/module"
)

// As long as nothing but frequency, shape and width moves the cycle, version 1
// gives the bits that it gave before it had anything else: the digest is that of
// the program as it was then.
func TestOldSettingsGiveTheOldBits(t *testing.T) {
	const want = "ca346efea3dc1f27cc6801e42678b7803dd601df7bb64e83ef1d78de78dd028b"
	sum := sha256.New()
	for shape := range 4 {
		r := rig.NewSetup(Kind(), module.Setup{Rate: 44100, Seed: 9}).Set("shape", float64(shape), "")
		glide := func(i uint64, low, high float64) rig.Wave {
			return func(n int) float64 {
				a, b := hash.Signed(i, uint64(n/512)), hash.Signed(i, uint64(n/512+1))
				x := a + float64((b-a)*(float64(n%512)/512))
				return low + float64((high-low)*(0.5+float64(0.5*x)))
			}
		}
		r.MoveRaw("frequency", "Hz", glide(1, 1, 5000)).MoveRaw("width", "%", glide(2, 0.01, 0.99))
		for _, y := range r.Out("out", 20000, 64, 1, 13) {
			var b [8]byte
			binary.LittleEndian.PutUint64(b[:], math.Float64bits(y))
			sum.Write(b[:])
		}
	}
	if got := hex.EncodeToString(sum.Sum(nil)); got != want {
		t.Errorf("digest %q; want %q", got, want)
	}
}
