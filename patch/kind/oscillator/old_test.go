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

// What version 2 gives where nothing but frequency, shape and width moves the cycle,
// however the samples are cut into blocks.
func TestOldSettingsGiveTheOldBits(t *testing.T) {
	const want = "408243c18bf59fc86de04769c8326d799db475f72132c199e9bb69bcf9f40606"
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
