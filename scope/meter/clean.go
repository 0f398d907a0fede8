package meter

import "math"

// block is how many samples are looked at together.
const block = 512

// loudest is the largest magnitude that counts as sound, 60 dB above full scale.
const loudest = 1000

// sound reports whether x is sound: a number, and no larger than loudest.
func sound(x float64) bool { return math.Abs(x) <= loudest }

// isClean reports whether all samples are sound.
func isClean(samples []float64) bool {
	for _, x := range samples {
		if !sound(x) {
			return false
		}
	}
	return true
}

// clean copies src to dst, with silence for what is no sound, and returns how
// many samples that were.
func clean[S float32 | float64](dst []float64, src []S) (broken int64) {
	for i, s := range src {
		x := float64(s)
		if !sound(x) {
			x = 0
			broken++
		}
		dst[i] = x
	}
	return broken
}

// cleaner holds one block of every channel.
type cleaner struct {
	block  [][]float64
	space  [][]float64
	broken int64
}

func newCleaner(channels int) cleaner {
	c := cleaner{make([][]float64, channels), make([][]float64, channels), 0}
	for i := range c.space {
		c.space[i] = make([]float64, block)
	}
	return c
}

// feed cuts channels into blocks of sound and gives them to take.
func feed[S float32 | float64](c *cleaner, channels [][]S, take func([][]float64)) {
	if len(channels) != len(c.space) {
		panic("meter: written was another number of channels than the meter has")
	}
	frames := len(channels[0])
	for _, ch := range channels {
		if len(ch) != frames {
			panic("meter: the channels are not equally long")
		}
	}
	for at := 0; at < frames; at += block {
		end := min(at+block, frames)
		for i, ch := range channels {
			c.block[i] = c.space[i][:end-at]
			c.broken += clean(c.block[i], ch[at:end])
		}
		take(c.block)
	}
}
