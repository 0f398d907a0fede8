package engine

import (
	"crypto/sha256"
	"encoding/binary"
	"hash"
	"math"
)

// Digest is the SHA-256 (FIPS 180-4) of samples, each as the eight bytes of an
// IEEE 754 double, least significant first; left and right alternate if stereo,
// otherwise it is the left side alone. Make it with NewDigest.
type Digest struct {
	stereo bool
	hash   hash.Hash
	buffer []byte
}

// NewDigest returns the digest of no samples.
func NewDigest(stereo bool) *Digest {
	return &Digest{stereo: stereo, hash: sha256.New(), buffer: make([]byte, 0, 1<<14)}
}

// Add appends samples; right is not looked at if not stereo.
func (d *Digest) Add(left, right []float64) {
	for i, x := range left {
		d.buffer = binary.LittleEndian.AppendUint64(d.buffer, math.Float64bits(x))
		if d.stereo {
			d.buffer = binary.LittleEndian.AppendUint64(d.buffer, math.Float64bits(right[i]))
		}
		if len(d.buffer) > cap(d.buffer)-16 {
			d.flush()
		}
	}
}

func (d *Digest) flush() {
	d.hash.Write(d.buffer)
	d.buffer = d.buffer[:0]
}

// Sum returns the digest of all samples so far.
func (d *Digest) Sum() [32]byte {
	d.flush()
	return [32]byte(d.hash.Sum(nil))
}
