package sound

import "math"

// dither turns samples into 16-bit words with triangular dither of two steps,
// which makes the error a steady hiss that does not follow the signal
// (Lipshitz, Wannamaker and Vanderkooy, JAES 40(5), 1992).
type dither struct{ state uint64 }

// fullScale is the word for 1.0, as the speaker counts it.
const fullScale = 1<<15 - 1

// word returns x as a whole number of steps, -32767 to 32767.
func (d *dither) word(x float64) float64 {
	w := math.Floor(x*fullScale + d.uniform() - d.uniform() + 0.5)
	return min(max(w, -fullScale), fullScale)
}

// forSpeaker returns x such that the speaker, which multiplies by fullScale and
// cuts the rest off, arrives at word(x).
func (d *dither) forSpeaker(x float64) float64 {
	w := d.word(x)
	return (w + math.Copysign(0.25, w)) / fullScale
}

// uniform returns the next number in 0..1 (xorshift64*: Vigna, ACM TOMS 42, 2016).
func (d *dither) uniform() float64 {
	if d.state == 0 {
		d.state = 0x9E3779B97F4A7C15
	}
	d.state ^= d.state >> 12
	d.state ^= d.state << 25
	d.state ^= d.state >> 27
	return float64(d.state*0x2545F4914F6CDD1D>>11) / (1 << 53)
}
