// Package hash draws random numbers that can be asked for by their place.
//
//	seed, index -> 64 bits -> a number of -1 to 1
//
// Sample n of a noise depends on nothing but the seed and n, so a render may
// start anywhere and comes out the same in blocks of any size.
package hash

// golden is 2^64 divided by the golden ratio: consecutive multiples of it fill
// the 64-bit circle evenly (Knuth, The Art of Computer Programming 3, 6.4).
const golden = 0x9E3779B97F4A7C15

// Key mixes seeds into one.
func Key(seeds ...uint64) uint64 {
	var k uint64
	for _, s := range seeds {
		k = mix(k + golden ^ s)
	}
	return k
}

// Bits returns number index of the stream named by key, all 64 bits random.
func Bits(key, index uint64) uint64 { return mix(key + golden*index) }

// Signed returns number index of the stream named by key, even over -1 to 1
// in steps of 2^-53. Its mean is 0 and its rms 1/sqrt(3).
func Signed(key, index uint64) float64 {
	// The odd numerator keeps the values symmetric around 0.
	return float64(float64(int64(Bits(key, index))>>10|1) * (1.0 / (1 << 53)))
}

// Fill sets dst to the numbers of the stream named by key from first on, as
// Signed would, in less time.
func Fill(dst []float64, key, first uint64) {
	z := key + golden*first
	for i := range dst {
		dst[i] = float64(float64(int64(mix(z))>>10|1) * (1.0 / (1 << 53)))
		z += golden
	}
}

// mix is the finaliser of SplitMix64 (Steele, Lea and Flood, Fast splittable
// pseudorandom number generators, OOPSLA 2014, with Stafford's variant 13).
func mix(z uint64) uint64 {
	z = (z ^ z>>30) * 0xBF58476D1CE4E5B9
	z = (z ^ z>>27) * 0x94D049BB133111EB
	return z ^ z>>31
}
